using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    private const string MoreYears =
        "To add years, hand in a file of past years' daily weather (highest and lowest temperature, rain) as the site's history feed.";

    public override string SeasonTitle => "When to start a bed here";

    public override string SeasonLink => "When to start a bed here";

    public override string SeasonFormTitle => "The bed to plan for";

    public override string SeasonMaterial => "Filled with";

    public override string SeasonUsualMaterial => "what each species usually gets";

    public override string SeasonDepth => "Depth";

    public override string SeasonShade => "Shade";

    public override string SeasonMulchDepth => "Depth of mulch";

    public override string SeasonMulch => "Mulch";

    public override string SeasonNoMulch => "none";

    public override string SeasonCover => "Over the bed, all the time";

    public override string SeasonSpecies => "Species";

    public override string SeasonAllSpecies => "None ticked: all of them.";

    public override string SeasonMore => "Species, mulch, cover";

    public override string SeasonShow => "Plan";

    public override string SeasonNotShown => "No plan yet:";

    public override string SeasonNumberBetween(double low, double high, string unit) =>
        unit.Length > 0 ? $"Give a number from {Number(low, 2)} to {Number(high)}\u00a0{unit}." : $"Give a number from {Number(low, 2)} to {Number(high)}.";

    public override string SeasonOneOf(string given, IEnumerable<string> known) => $"\"{given}\" is not known. Give one of {string.Join(", ", known)}.";

    public override string SeasonMulchUnnamed => "Say what the mulch is, or give it no depth.";

    public override string SeasonBasisTitle => "What this rests on";

    public override string SeasonRestsOn(LocalDate first, LocalDate last, int mostYears) =>
        $"The weather measured at this site from {LongDate(first)} to {LongDate(last)}; no forecast. For every week of the year a bed is made in each past year that reaches 500 days on, {Years(mostYears)} at most, and followed through that year's weather.";

    public override string SeasonCareful =>
        $"Each is in a careful grower's hands: wetted full when made, {WaterDepth(2)} ({WaterPerArea(2)}) of water a day in the first week and every other day in the second, then filled up each morning after it fell below its mark. Nobody covers it, uncovers it or soaks it to make it pin. A bed that is forgotten for a fortnight does worse.";

    public override string SeasonCounting(int mostYears) => mostYears == 1
        ? "One past year says what happened once. Whether it is usual, nobody can say from it."
        : $"\"{SeasonKOfN(mostYears, mostYears)}\" means: of so many past years, so many gave a first pick within 12 months. With {Years(mostYears)} the finest honest statement is one in {Number(mostYears)}: the year to come may be one that is not among them.";

    public override string SeasonNote(PlannerNote note)
    {
        var n = note.Numbers;
        return note.Code switch
        {
            PlannerNoteCode.NoWholeRun => n[0] == 0
                ? $"Nothing measured is known of this site's weather, and a bed has to be followed for {Number(n[1])} days. {MoreYears}"
                : $"The measured weather of this site covers {Days(n[0])}, too short to follow a bed for {Number(n[1])} days. {MoreYears}",
            PlannerNoteCode.WeatherStops => $"The weather is used only up to the hole on {LongDate(note.Day!.Value)}, {Days(n[0])} of it: that time of the year was never measured, so nothing can fill it. {MoreYears}",
            PlannerNoteCode.OneYearOnly => $"Only one past year can be followed, for {Number(n[0])} of the 52 weeks: it says what happened once, not what is usual. {MoreYears}",
            PlannerNoteCode.WeeksWithoutYears => $"For {Number(n[0])} of the {Number(n[1])} weeks no past year can be followed to its end, and nothing is said of them. {MoreYears}",
            PlannerNoteCode.RunsLeftOut => $"{(n[0] == 1 ? "One past bed was" : $"{Number(n[0])} past beds were")} left out because more than a tenth of the weather is missing; {Number(n[1])} remain.",
            PlannerNoteCode.DaysFilled => $"{Number(n[0])} of {Days(n[1])} of weather were not fully measured and were filled from their neighbours or from what is usual.",
            _ => throw new ArgumentOutOfRangeException(nameof(note), note.Code, null),
        };
    }

    public override string SeasonGlanceTitle => "At a glance";

    public override string SeasonSuits => "A pick within 12 months";

    public override string SeasonBestStart => "Best week to start";

    public override string SeasonFirstPick => "First pick";

    public override string SeasonWater => "Water in 12 months";

    public override string NameOf(SiteFit fit) => fit switch
    {
        SiteFit.EveryYear => "every year",
        SiteFit.Often => "often",
        SiteFit.Seldom => "seldom",
        SiteFit.Never => "never",
        SiteFit.NotKnown => "not known",
        _ => throw new ArgumentOutOfRangeException(nameof(fit), fit, null),
    };

    public override string SeasonFit(SiteFit fit, int picked, int years) => fit switch
    {
        SiteFit.EveryYear => $"As far as {Years(years)} can tell, it suits this site: started in its best week, {SeasonKOfN(picked, years)} gave a first pick within 12 months.",
        SiteFit.Often => $"Often suits this site: even started in its best week, only {SeasonKOfN(picked, years)} gave a first pick within 12 months.",
        SiteFit.Seldom => $"Seldom suits this site: even started in its best week, only {SeasonKOfN(picked, years)} gave a first pick within 12 months.",
        SiteFit.Never => "Whatever the week, no past year gave a first pick within 12 months.",
        SiteFit.NotKnown => "Whether it suits this site is not known: no past year can be followed.",
        _ => throw new ArgumentOutOfRangeException(nameof(fit), fit, null),
    };

    public override string SeasonKOfN(int picked, int years) => $"{Number(picked)} of {Years(years)}";

    public override string SeasonBetween(LocalDate first, LocalDate last, LocalDate start) => first == last
        ? $"around {InYear(first, start)}"
        : first.Year == last.Year && first.Year != start.Year ? $"{ShortDate(first)} to {InYear(last, start)}" : $"{InYear(first, start)} to {InYear(last, start)}";

    public override string SeasonWaterings(int waterings, double litres) => $"{Number(waterings)}\u00a0{(waterings == 1 ? "watering" : "waterings")}, {WaterPerArea(litres)}";

    public override string SeasonStart(LocalDate start, int picked, int years, (LocalDate First, LocalDate Last) picks, int waterings, double litres)
    {
        var between = picks.First == picks.Last
            ? $"around {InYear(picks.First, start)}"
            : $"between {(picks.First.Year == picks.Last.Year ? ShortDate(picks.First) : InYear(picks.First, start))} and {InYear(picks.Last, start)}";
        return $"Start in the week of {ShortDate(start)}: {SeasonKOfN(picked, years)} gave a first pick within 12 months, {between}; {SeasonWaterings(waterings, litres)}.";
    }

    public override string SeasonIn(Material material, double depth) => $"{SeasonMaterial}: {LayerOf(material, depth)}";

    public override string SeasonOtherWeeks => "Nearly as good";

    public override string SeasonStripTitle => "Every week of the year to start in";

    public override string SeasonStripSaid(LocalDate best, int picked, int years, int everyYear, int never, int unknown) =>
        $"Best in the week of {ShortDate(best)}, {SeasonKOfN(picked, years)}. A pick in every year for {Weeks(everyYear)}{(never > 0 ? $", in none for {Weeks(never)}" : "")}{(unknown > 0 ? $"; {Weeks(unknown)} not known" : "")}.";

    public override string SeasonStripUnknown => "No week is known.";

    public override string SeasonChance => "Chance of a pick within 12 months";

    public override string SeasonNoYearPicked => "Not in any past year";

    public override string SeasonNotKnown => "Not known";

    public override string SeasonBestWeeks => "Best weeks";

    public override string SeasonThisWeek => "today";

    public override string SeasonWait => "Months until the first pick: half of the years by the dot, most within the line";

    public override string SeasonStartColumn => "Week of";

    public override string SeasonYearsColumn => "Years with a pick";

    public override string SeasonHalfBy => "First pick, half of the years by";

    public override string SeasonWateringsColumn => "Waterings";

    public override string SeasonLitresColumn => $"Water, {PerAreaSign}";

    public override string SeasonFailuresColumn => "Why not";

    public override string SeasonMonthsTitle => "Months with pins";

    public override string SeasonMonthsSaid(IReadOnlyList<string> months, double share) => $"{Percent(share)} of all pins formed in {Listed(months)}.";

    public override string SeasonNoPins => "No pins formed.";

    public override string SeasonMonthColumn => "Month";

    public override string SeasonPinsColumn => "Share of pins";

    public override string SeasonFailuresTitle => "Why beds failed";

    public override string SeasonFailed(int failed, int beds) => failed == 0
        ? $"None of the {Number(beds)} beds tried, over all weeks and years, went without a pick in 12 months."
        : $"{Number(failed)} of the {Number(beds)} beds tried, over all weeks and years, gave no pick within 12 months:";

    public override string NameOf(NoPickReason reason) => reason switch
    {
        NoPickReason.HeatHarmedSpawn => "heat harmed the spawn",
        NoPickReason.SpawnRunNotDone => "the spawn had not run through",
        NoPickReason.TooYoung => "run through, but younger than it ever fruits",
        NoPickReason.WaitedForSoak => "ready, but no soaking came",
        NoPickReason.WaitedForFrost => "ready, but too few frosty nights came",
        NoPickReason.WaitedForCooling => "ready, but no fall of temperature came",
        NoPickReason.TooWarmToPin => "ready, but too warm to pin",
        NoPickReason.TooColdToPin => "ready, but too cold to pin",
        NoPickReason.PinningFailed => "pinning began and failed",
        NoPickReason.FlushLostToFrost => "the flush was lost to frost",
        NoPickReason.FlushLostToDrought => "the flush was lost to drought",
        NoPickReason.FlushLostToWet => "the flush was lost to wet",
        NoPickReason.FlushLostToCold => "the flush was lost to cold",
        NoPickReason.FlushLostToHeat => "the flush was lost to heat",
        NoPickReason.OnItsWay => "on the way when the 12 months were over",
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, null),
    };

    public override string SeasonBeds(int beds) => $"{Number(beds)} {(beds == 1 ? "bed" : "beds")}";

    public override string SeasonNeverTitle(int species) => $"No pick here within 12 months: {Number(species)} species";

    public override string SeasonNeverSaid => "A few past years do not prove that it cannot be. Another material, depth, shade or cover may change it.";

    public override string SeasonSlow => "It is slow rather than unsuited: its spawn run takes longer than 12 months here by the model, which may be too slow for it.";

    public override string SeasonLater(int beds, int all) => $"Within 500 days {Number(beds)} of {Number(all)} beds gave one.";

    public override string SeasonEatingTitle => "Before you eat any";

    public override IReadOnlyList<string> SeasonEating =>
    [
        "A plan never says that a mushroom is safe, and sowing a bed does not identify what comes up in it: other fungi come up in open beds.",
        "Identify every mushroom with certainty before eating it. Check the dangerous lookalikes of the species: they stand folded below each one.",
        "Take a spore print, and ask a local expert when in doubt. What stays in doubt is not eaten.",
        "Cook before eating, and try a small portion first.",
        "Before selling or giving away what was picked: follow local food law and its inspection.",
    ];

    public override string SeasonMaterialsTitle => "Before you fill a bed";

    public override IReadOnlyList<string> SeasonMaterialCautions(IReadOnlyCollection<string> materials)
    {
        List<string> cautions = [];
        if (HoldsAny(materials, "composted-manure"))
            cautions.Add("Raw manure and unfinished compost carry germs: use only what is composted through, and keep beds away from livestock and its run-off.");
        if (HoldsAny(materials, "hardwood-chips", "sawdust"))
            cautions.Add("Wood: never treated, painted, composite or railway wood, nor chips from roadsides.");
        if (HoldsAny(materials, "cereal-straw"))
            cautions.Add("Straw: ask what it was sprayed with.");
        if (HoldsAny(materials, "shredded-leaves", "leaf-mould"))
            cautions.Add("Leaves: not from roadsides, nor from sprayed ground.");
        cautions.Add("Dry material gives off mould dust: wet it first and wear a mask that fits. Wet loads are heavy: lift with two.");
        cautions.Add("Ask before you plant a species that is not native. Local rules on food safety, water and open ground come first.");
        return cautions;
    }

    private static string Listed(IReadOnlyList<string> items) =>
        items.Count == 1 ? items[0] : $"{string.Join(", ", items.SkipLast(1))} and {items[^1]}";

    private string LongDate(LocalDate date) => date.ToString("d MMMM uuuu", Culture);

    private string InYear(LocalDate date, LocalDate start) => date.Year == start.Year ? ShortDate(date) : LongDate(date);

    private string Years(int years) => $"{Number(years)} {(years == 1 ? "year" : "years")}";

    private string Weeks(int weeks) => $"{Number(weeks)} {(weeks == 1 ? "week" : "weeks")}";
}
