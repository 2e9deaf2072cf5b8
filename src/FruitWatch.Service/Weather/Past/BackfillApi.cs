using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather.Past;

/// <summary>Fetching past years, in the web API.</summary>
internal static class BackfillApi
{
    public static void MapBackfills(this IEndpointRouteBuilder api)
    {
        var fills = api.MapGroup("/sites/{id:long}/feeds/{feedId:long}/backfill").WithTags("Weather").Needs(Right.ReadFeeds);
        fills.MapGet("", GetAsync).WithName("GetBackfill").WithSummary("How far past years have been fetched.").Refusing(404);
        fills.MapPut("", StartAsync).Needs(Right.ManageFeeds).WithName("StartBackfill").WithSummary("Starts to fetch past years, goes on after a halt, or reaches further back.").Refusing(404, 409);
        fills.MapDelete("", HaltAsync).Needs(Right.ManageFeeds).WithName("HaltBackfill").WithSummary("Halts it; what came is kept, and it can go on.").Refusing(404);
    }

    private static async Task<Results<Ok<BackfillBody>, ProblemHttpResult>> GetAsync(
        [Description("Key of the site.")] long id, [Description("Key of the feed.")] long feedId, FruitWatchStore store, IClock clock, HttpContext context) =>
        await SiteFeedsApi.FindAsync(store, id, feedId, clock, context.RequestAborted) is { Backfill: { } fill } health
            ? TypedResults.Ok(BackfillBody.Of(fill, health.BackfillDone ?? 0))
            : ApiProblems.NotFound("backfill of this site from feed", feedId);

    private static async Task<Results<Ok<BackfillBody>, ProblemHttpResult>> StartAsync(
        [Description("Key of the site.")] long id,
        [Description("Key of the feed.")] long feedId,
        Body<BackfillChange> body,
        FruitWatchStore store,
        Backfills backfills,
        IClock clock,
        HttpContext context)
    {
        var stop = context.RequestAborted;
        if (await SiteFeedsApi.FindAsync(store, id, feedId, clock, stop) is not { } health)
            return ApiProblems.NotFound("feed in use at this site", feedId);
        if (body.Refusal is { } refusal)
            return refusal;
        var site = await store.Sites.AsNoTracking().SingleAsync(row => row.Id == id, stop);
        var today = clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb[site.ZoneId]).Date;
        if (body.Value.FirstDay is { } first && (first < today.PlusYears(-WeatherPull.YearsBack) || first >= today))
            return ApiProblems.Field("firstDay", $"Expected a day before today and at most {WeatherPull.YearsBack} years back.");
        if (!backfills.IsAble(await store.Feeds.AsNoTracking().SingleAsync(row => row.Id == feedId, stop)))
            return ApiProblems.Conflict("This feed does not tell of past years: its address names no days ({start} and {end}), or it gives no history.");
        if (health.Question is not null)
            return ApiProblems.Conflict("Its answer is held until somebody says whether its units are right. Do that first.");
        await backfills.StartAsync(store, site, feedId, body.Value.FirstDay, stop);
        return await GetAsync(id, feedId, store, clock, context);
    }

    private static async Task<Results<Ok<BackfillBody>, ProblemHttpResult>> HaltAsync(
        [Description("Key of the site.")] long id, [Description("Key of the feed.")] long feedId, FruitWatchStore store, IClock clock, HttpContext context)
    {
        await Backfills.HaltAsync(store, id, feedId, context.RequestAborted);
        return await GetAsync(id, feedId, store, clock, context);
    }
}
