using System.ComponentModel;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FruitWatch.Service.Season;

/// <summary>The season plan in the web API.</summary>
internal static class SeasonApi
{
    private static readonly string[] s_fields =
        ["species", "material", SeasonFields.OfApi.Depth, SeasonFields.OfApi.Shade, "mulchCm", "mulch", "cover"];

    public static void MapSeason(this IEndpointRouteBuilder api) =>
        api.MapGet("/sites/{id:long}/season", PlanAsync).Needs(Right.ReadRecords).WithTags("Sites").WithName("GetSiteSeason")
            .WithSummary("When to start a bed at a site, species by species, from its own past weather.").Refusing(400, 404);

    private static async Task<Results<Ok<SeasonBody>, ProblemHttpResult>> PlanAsync(
        [Description("Key of the site.")] long id,
        [Description("Keys of species, repeated or with commas between; all where left out.")] string[]? species,
        [Description("Key of the material to fill the bed with; the usual one of each species where left out.")] string? material,
        [Description("Settled depth when laid, 0.02 to 1 m; 0.15 where left out.")] string? depthM,
        [Description("Share of the sun kept off, 0 to 1; 0.5 where left out.")] string? shade,
        [Description("Depth of the mulch, 0 to 50 cm; 0 where left out.")] string? mulchCm,
        [Description("Key of the mulch's material; needed where there is mulch.")] string? mulch,
        [Description("What lies over the bed all the time: none, sheet or pierced-sheet; none where left out.")] string? cover,
        FruitWatchStore store,
        SiteBooks books,
        SeasonPlans plans,
        BedCatalogue catalogue,
        HttpContext context)
    {
        var words = Words.For("en");
        var reader = new SeasonReader(SeasonFields.OfApi, catalogue, words);
        var question = reader.Read(new SeasonAsked(species ?? [], material, depthM, shade, mulchCm, mulch, cover));
        var errors = new Dictionary<string, string[]>(reader.Errors);
        // A name misspelt and passed over would give the plan of another bed than was meant.
        foreach (var unknown in context.Request.Query.Keys.Where(key => !s_fields.Contains(key, StringComparer.OrdinalIgnoreCase)))
            errors[unknown] = [words.SeasonOneOf(unknown, s_fields)];
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        return await OpenAsync(id, store, books, context.RequestAborted) is { } site
            ? TypedResults.Ok(SeasonBody.Of(site, await plans.OfAsync(site, question!, context.RequestAborted), words))
            : ApiProblems.NotFound("site", id);
    }

    /// <summary>The book of a site; null where there is no such site.</summary>
    public static async Task<SiteBook?> OpenAsync(long id, FruitWatchStore store, SiteBooks books, CancellationToken stop) =>
        (await books.OpenAsync(store, [id], stop)).SingleOrDefault();
}
