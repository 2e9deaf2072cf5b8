using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Season;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace FruitWatch.Service.Pages.Sites;

/// <summary>When to start a bed at a site, species by species, from its own past weather.</summary>
[Right(Right.ReadRecords)]
internal sealed class SeasonModel(FruitWatchStore store, SiteBooks books, SeasonPlans plans, BedCatalogue catalogue, Words words) : PageModel
{
    public static readonly SeasonFields Fields = SeasonFields.OfPage;

    public SiteBook Site { get; private set; } = null!;

    /// <summary>What was asked, as it was filled in.</summary>
    public SeasonAsked Asked { get; private set; } = null!;

    /// <summary>What is wrong with it, by field.</summary>
    public IReadOnlyDictionary<string, string[]> Errors { get; private set; } = new Dictionary<string, string[]>();

    /// <summary>Null where a field is wrong.</summary>
    public SeasonPlan? Plan { get; private set; }

    public IReadOnlyList<FeedCredit> Credits { get; private set; } = [];

    public BedCatalogue Catalogue => catalogue;

    /// <summary>The most past years that any week has: n.</summary>
    public int MostYears { get; private set; }

    /// <summary>Species that gave a pick at all, the surest first.</summary>
    public IReadOnlyList<SpeciesShown> Picked { get; private set; } = [];

    /// <summary>Species that never did.</summary>
    public IReadOnlyList<SpeciesShown> Never { get; private set; } = [];

    /// <summary>Keys of all that a bed of the plan would be made of.</summary>
    public IReadOnlyCollection<string> Materials { get; private set; } = [];

    /// <summary>Notes to be read, one that only repeats another left out.</summary>
    public IEnumerable<PlannerNote> Notes => Plan!.Notes.Where(note => note.Code != PlannerNoteCode.WeeksWithoutYears || MostYears > 0);

    public async Task<IActionResult> OnGetAsync(
        long id, string[] species, string? material, string? depthCm, string? shadePercent, string? mulchCm, string? mulch, string? cover, CancellationToken stop)
    {
        if (await SeasonApi.OpenAsync(id, store, books, stop) is not { } site)
            return NotFound();
        Site = site;
        Asked = new SeasonAsked(species, material, depthCm, shadePercent, mulchCm, mulch, cover);
        var credits = await FeedCredit.LoadAsync(store, stop);
        Credits = [.. new SiteWeatherShown(site, credits).Credits];
        var reader = new SeasonReader(Fields, catalogue, words);
        if (reader.Read(Asked) is not { } question)
        {
            Errors = reader.Errors;
            Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
            return Page();
        }

        Show(await plans.OfAsync(site, question, stop));
        return Page();
    }

    private void Show(SeasonPlan plan)
    {
        Plan = plan;
        MostYears = plan.Species.Max(season => season.Weeks.Max(week => week.Years));
        var known = plan.Species.Where(season => season.Fit != SiteFit.NotKnown).Select(season => new SpeciesShown(season, Site.Today, words)).ToList();
        Picked =
        [
            .. known.Where(shown => shown.Season.Fit != SiteFit.Never)
                .OrderByDescending(shown => shown.Season.Fit).ThenByDescending(shown => shown.Season.Best!.Chance)
                .ThenBy(shown => shown.Season.Best!.Litres.P50),
        ];
        Never = [.. known.Where(shown => shown.Season.Fit == SiteFit.Never)];
        Materials = plan.Species.Select(season => season.Material.Key).Append(plan.Pattern.Mulch).OfType<string>().ToHashSet();
    }
}
