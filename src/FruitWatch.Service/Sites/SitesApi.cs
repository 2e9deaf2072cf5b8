using System.ComponentModel;
using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Sites;

/// <summary>Sites in the web API.</summary>
internal static class SitesApi
{
    public static void MapSites(this IEndpointRouteBuilder api)
    {
        var sites = api.MapGroup("/sites").WithTags("Sites").Needs(Right.ReadBeds);
        sites.MapGet("", ListAsync).WithName("ListSites").WithSummary("All sites, in order of their keys.").Refusing(400);
        sites.MapGet("{id:long}", GetAsync).WithName("GetSite").WithSummary("A site.").Giving<SiteBody>().GivingVersion().Refusing(404);
        sites.MapPost("", AddAsync).Needs(Right.ManageSites).WithName("AddSite").WithSummary("Makes a site.");
        sites.MapPut("{id:long}", ChangeAsync).Needs(Right.ManageSites).WithName("ChangeSite")
            .WithSummary("Changes a site.").NeedingVersion().Refusing(404, 409);
    }

    private static async Task<Results<Ok<Listing<SiteBody>>, ProblemHttpResult>> ListAsync(
        FruitWatchStore store,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var after = paging.After ?? 0;
        var rows = await store.Sites.AsNoTracking().Where(site => site.Id > after).OrderBy(site => site.Id)
            .Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, site => site.Id, SiteBody.Of, context.Request));
    }

    private static async Task<IResult> GetAsync(
        [Description("Key of the site.")] long id, FruitWatchStore store, HttpContext context)
    {
        var row = await store.Sites.AsNoTracking().SingleOrDefaultAsync(site => site.Id == id, context.RequestAborted);
        return row is null ? ApiProblems.NotFound("site", id) : ETags.Ok(context, row, SiteBody.Of(row));
    }

    private static async Task<Results<Created<SiteBody>, ProblemHttpResult>> AddAsync(
        Body<SiteChange> body, FruitWatchStore store, ServiceOptions options, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var row = new Site { Name = "", ZoneId = "", CooperativeId = store.Reach.CooperativeId };
        if (body.Value.CooperativeId is { } other && other != row.CooperativeId)
            body.Fields.Refuse("cooperativeId", $"Expected the key of your own cooperative, {row.CooperativeId}, or nothing.");
        await CheckFeedsAsync(body, row.CooperativeId, store, options, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        body.Value.Put(row);
        store.Sites.Add(row);
        await store.SaveChangesAsync(context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Created(FormattableString.Invariant($"{ApiProblems.Root}/sites/{row.Id}"), SiteBody.Of(row));
    }

    private static async Task<Results<Ok<SiteBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the site.")] long id, Body<SiteChange> body, FruitWatchStore store, ServiceOptions options, IClock clock, HttpContext context)
    {
        var row = await store.Sites.SingleOrDefaultAsync(site => site.Id == id, context.RequestAborted);
        if (row is null)
            return ApiProblems.NotFound("site", id);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        if (body.Value.CooperativeId is { } other && other != row.CooperativeId)
            body.Fields.Refuse("cooperativeId", "A site stays with its cooperative.");
        await CheckFeedsAsync(body, row.CooperativeId, store, options, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        var before = (row.Latitude, row.Longitude, row.Elevation, row.ZoneId, row.Station);
        body.Value.Put(row);
        await store.SaveChangesAsync(context.RequestAborted);
        if (before != (row.Latitude, row.Longitude, row.Elevation, row.ZoneId, row.Station))
            await AskAgainAsync(store, id, clock.GetCurrentInstant(), context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(SiteBody.Of(row));
    }

    private static async Task CheckFeedsAsync(
        Body<SiteChange> body, long cooperativeId, FruitWatchStore store, ServiceOptions options, CancellationToken stop)
    {
        var known = await store.Feeds.AsNoTracking().Where(feed => feed.CooperativeId == cooperativeId).ToDictionaryAsync(feed => feed.Id, stop);
        var fields = new[]
        {
            ("forecastFeedId", body.Value.ForecastFeedId), ("historyFeedId", body.Value.HistoryFeedId), ("stationFeedId", body.Value.StationFeedId),
        };
        foreach (var (field, id) in fields)
        {
            if (id is not { } wanted)
                continue;
            if (!known.TryGetValue(wanted, out var feed))
                body.Fields.Refuse(field, $"The cooperative has no feed {wanted}.");
            else if (body.Value.Station is null && NeedsStation(feed, options))
                body.Fields.Refuse("station", $"The feed '{feed.Title}' is asked by station. Enter the station's identifier from the provider's list.");
        }
    }

    private static bool NeedsStation(Feed feed, ServiceOptions options)
    {
        try
        {
            return FeedDescription.Parse(feed.Description, options.LocalStationSet).NeedsStation;
        }
        catch (FeedDescriptionException)
        {
            // Told by the feed itself when it is asked.
            return false;
        }
    }

    /// <summary>A site that moved, or names another station, is told another weather: its feeds are due at once.</summary>
    private static Task<int> AskAgainAsync(FruitWatchStore store, long siteId, Instant now, CancellationToken stop) => store.SiteFeeds
        .Where(row => row.SiteId == siteId).ExecuteUpdateAsync(set => set.SetProperty(row => row.NextTryAt, now), stop);
}
