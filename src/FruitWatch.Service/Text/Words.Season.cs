using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using NodaTime;

namespace FruitWatch.Service.Text;

// When to start a bed.
internal abstract partial class Words
{
    public abstract string SeasonTitle { get; }

    /// <summary>The way to the page from a site's heading.</summary>
    public abstract string SeasonLink { get; }

    public abstract string SeasonFormTitle { get; }

    public abstract string SeasonMaterial { get; }

    /// <summary>Each species in its usual material.</summary>
    public abstract string SeasonUsualMaterial { get; }

    public abstract string SeasonDepth { get; }

    public abstract string SeasonShade { get; }

    public abstract string SeasonMulchDepth { get; }

    public abstract string SeasonMulch { get; }

    public abstract string SeasonNoMulch { get; }

    public abstract string SeasonCover { get; }

    public abstract string SeasonSpecies { get; }

    public abstract string SeasonAllSpecies { get; }

    public abstract string SeasonMore { get; }

    public abstract string SeasonShow { get; }

    public abstract string SeasonNotShown { get; }

    /// <summary>What may be given for a number; the unit is empty for a share.</summary>
    public abstract string SeasonNumberBetween(double low, double high, string unit);

    /// <summary>What was given is none of what may be given.</summary>
    public abstract string SeasonOneOf(string given, IEnumerable<string> known);

    public abstract string SeasonMulchUnnamed { get; }

    public abstract string SeasonBasisTitle { get; }

    /// <summary>The weather that a plan rests on.</summary>
    public abstract string SeasonRestsOn(LocalDate first, LocalDate last, int mostYears);

    /// <summary>How a bed of the past is looked after.</summary>
    public abstract string SeasonCareful { get; }

    /// <summary>How to read "k of n".</summary>
    public abstract string SeasonCounting(int mostYears);

    /// <summary>A note of the planner; says what to do about it where something can be done.</summary>
    public abstract string SeasonNote(PlannerNote note);

    public abstract string SeasonGlanceTitle { get; }

    public abstract string SeasonSuits { get; }

    public abstract string SeasonBestStart { get; }

    public abstract string SeasonFirstPick { get; }

    public abstract string SeasonWater { get; }

    /// <summary>Whether a species suits the site, in a word or two.</summary>
    public abstract string NameOf(SiteFit fit);

    /// <summary>The same in a sentence, by the best week's k of n.</summary>
    public abstract string SeasonFit(SiteFit fit, int picked, int years);

    public abstract string SeasonKOfN(int picked, int years);

    /// <summary>From one day to another, with the year where it is another one than that of a start.</summary>
    public abstract string SeasonBetween(LocalDate first, LocalDate last, LocalDate start);

    public abstract string SeasonWaterings(int waterings, double litres);

    /// <summary>What a start in a week brought.</summary>
    public abstract string SeasonStart(LocalDate start, int picked, int years, (LocalDate First, LocalDate Last) picks, int waterings, double litres);

    /// <summary>What the bed is filled with.</summary>
    public abstract string SeasonIn(Material material, double depth);

    public abstract string SeasonOtherWeeks { get; }

    public abstract string SeasonStripTitle { get; }

    /// <summary>What matters in the strip of weeks.</summary>
    public abstract string SeasonStripSaid(LocalDate best, int picked, int years, int everyYear, int never, int unknown);

    public abstract string SeasonStripUnknown { get; }

    public abstract string SeasonChance { get; }

    public abstract string SeasonNoYearPicked { get; }

    public abstract string SeasonNotKnown { get; }

    public abstract string SeasonBestWeeks { get; }

    public abstract string SeasonThisWeek { get; }

    public abstract string SeasonWait { get; }

    public abstract string SeasonStartColumn { get; }

    public abstract string SeasonYearsColumn { get; }

    public abstract string SeasonHalfBy { get; }

    public abstract string SeasonWateringsColumn { get; }

    public abstract string SeasonLitresColumn { get; }

    public abstract string SeasonFailuresColumn { get; }

    public abstract string SeasonMonthsTitle { get; }

    /// <summary>The months with most pins, and their share.</summary>
    public abstract string SeasonMonthsSaid(IReadOnlyList<string> months, double share);

    public abstract string SeasonNoPins { get; }

    public abstract string SeasonMonthColumn { get; }

    public abstract string SeasonPinsColumn { get; }

    public abstract string SeasonFailuresTitle { get; }

    /// <summary>How many of the beds tried failed.</summary>
    public abstract string SeasonFailed(int failed, int beds);

    /// <summary>What stopped a bed.</summary>
    public abstract string NameOf(NoPickReason reason);

    public abstract string SeasonBeds(int beds);

    public abstract string SeasonNeverTitle(int species);

    public abstract string SeasonNeverSaid { get; }

    /// <summary>Nothing stopped its beds but time.</summary>
    public abstract string SeasonSlow { get; }

    /// <summary>Beds that gave a first pick after the 12 months.</summary>
    public abstract string SeasonLater(int beds, int all);

    public abstract string SeasonEatingTitle { get; }

    /// <summary>What must be said wherever picking is spoken of, whichever the species.</summary>
    public abstract IReadOnlyList<string> SeasonEating { get; }

    public abstract string SeasonMaterialsTitle { get; }

    /// <summary>Cautions for filling a bed: those of the materials, then those that always hold.</summary>
    public abstract IReadOnlyList<string> SeasonMaterialCautions(IReadOnlyCollection<string> materials);

    /// <summary>A month in full. 1…12</summary>
    public string SeasonMonth(int month) => new LocalDate(2000, month, 1).ToString("MMMM", Culture);

    /// <summary>A month where there is little room. 1…12</summary>
    public string SeasonShortMonth(int month) => new LocalDate(2000, month, 1).ToString("MMM", Culture);

    /// <summary>Materials that share a caution.</summary>
    protected static bool HoldsAny(IReadOnlyCollection<string> materials, params ReadOnlySpan<string> keys)
    {
        foreach (var key in keys)
        {
            if (materials.Contains(key))
                return true;
        }

        return false;
    }
}
