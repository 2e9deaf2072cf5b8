using System.ComponentModel;
using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>How a site's feeds stand, in the web API, and what a person can do about it.</summary>
internal static class SiteFeedsApi
{
    /// <summary>Asking again sooner would tell nothing new.</summary>
    private static readonly Duration s_apart = Duration.FromMinutes(1);

    public static void MapSiteFeeds(this IEndpointRouteBuilder api)
    {
        var feeds = api.MapGroup("/sites/{id:long}").WithTags("Weather").Needs(Right.ReadFeeds);
        feeds.MapGet("feeds", ListAsync).WithName("ListSiteFeeds").WithSummary("How each feed of a site stands, the most trusted first.").Refusing(404);
        feeds.MapPost("feeds/{feedId:long}/confirm-units", ConfirmAsync).Needs(Right.ManageFeeds).WithName("ConfirmFeedUnits")
            .WithSummary("Says that the units of a held answer are right: it is used from now on, until the feed is changed.").OutsideTransaction();
        feeds.MapPost("feeds/{feedId:long}/ask-now", AskAsync).Needs(Right.ManageFeeds).WithName("AskFeedNow")
            .WithSummary("Asks a feed for a site at once, unless its host wants to be left alone.").OutsideTransaction();
        feeds.MapGet("climate", ClimateAsync).WithName("GetSiteClimate").WithSummary("What is usual at a site, month by month.").Refusing(404);
    }

    private static async Task<Results<Ok<Listing<SiteFeedBody>>, ProblemHttpResult>> ListAsync(
        [Description("Key of the site.")] long id, FruitWatchStore store, IClock clock, HttpContext context)
    {
        var stop = context.RequestAborted;
        if (!await store.Sites.AnyAsync(site => site.Id == id, stop))
            return ApiProblems.NotFound("site", id);
        var health = await SiteFeedHealth.LoadAsync(store, [id], clock.GetCurrentInstant(), stop);
        return TypedResults.Ok(new Listing<SiteFeedBody>([.. health[id].Select(SiteFeedBody.Of)], null));
    }

    private static async Task<Results<Ok<SiteFeedBody>, ProblemHttpResult>> ConfirmAsync(
        [Description("Key of the site.")] long id,
        [Description("Key of the feed.")] long feedId,
        FruitWatchStore store,
        WeatherPull weather,
        IClock clock,
        HttpContext context)
    {
        var stop = context.RequestAborted;
        if (await FindAsync(store, id, feedId, clock, stop) is not { } health)
            return ApiProblems.NotFound("feed in use at this site", feedId);
        if (health.Question is null)
            return ApiProblems.Conflict("Nothing is asked about the units of this feed.");
        await ConfirmUnitsAsync(store, weather, id, feedId, stop);
        return TypedResults.Ok(SiteFeedBody.Of((await FindAsync(store, id, feedId, clock, stop))!));
    }

    /// <summary>Notes that the units are right, and takes the held answer.</summary>
    public static async Task ConfirmUnitsAsync(FruitWatchStore store, WeatherPull weather, long siteId, long feedId, CancellationToken stop)
    {
        var version = await store.Feeds.Where(feed => feed.Id == feedId).Select(feed => (int?)feed.Version).SingleAsync(stop);
        await store.SiteFeeds.Where(row => row.SiteId == siteId && row.FeedId == feedId && row.Question != null)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.UnitsConfirmed, version), stop);
        // The held answer is kept as it came, and is read again without asking while it is fresh.
        await weather.PullAsync(store, siteId, PullFor.Morning, feedId, null, stop);
    }

    private static async Task<Results<Ok<SiteFeedBody>, ProblemHttpResult>> AskAsync(
        [Description("Key of the site.")] long id,
        [Description("Key of the feed.")] long feedId,
        FruitWatchStore store,
        WeatherPull weather,
        ServiceOptions options,
        IClock clock,
        HttpContext context)
    {
        var stop = context.RequestAborted;
        if (await FindAsync(store, id, feedId, clock, stop) is not { } health)
            return ApiProblems.NotFound("feed in use at this site", feedId);
        var now = clock.GetCurrentInstant();
        if (health.LastTriedAt is { } last && now - last < s_apart && now >= last)
            return ApiProblems.Conflict("It was asked within the last minute. Nothing was asked.");
        if (await RestsUntilAsync(store, feedId, options, now, stop) is { } until)
            return ApiProblems.Conflict($"Its host wants to be left alone until {until:uuuu-MM-dd'T'HH:mm:ss'Z'}. Nothing was asked.");
        await weather.PullAsync(store, id, PullFor.Now, feedId, null, stop);
        return TypedResults.Ok(SiteFeedBody.Of((await FindAsync(store, id, feedId, clock, stop))!));
    }

    private static async Task<Results<Ok<SiteClimate>, ProblemHttpResult>> ClimateAsync(
        [Description("Key of the site.")] long id, FruitWatchStore store, IClock clock, HttpContext context)
    {
        var stop = context.RequestAborted;
        if (await store.Sites.AsNoTracking().SingleOrDefaultAsync(site => site.Id == id, stop) is not { } site)
            return ApiProblems.NotFound("site", id);
        var today = clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb[site.ZoneId]).Date;
        return TypedResults.Ok(SiteClimate.Of(id, await SiteSources.PastAsync(store, site, today, stop)));
    }

    /// <summary>How a feed stands at a site; null where the site does not use it.</summary>
    public static async Task<SiteFeedHealth?> FindAsync(FruitWatchStore store, long siteId, long feedId, IClock clock, CancellationToken stop) =>
        (await SiteFeedHealth.LoadAsync(store, [siteId], clock.GetCurrentInstant(), stop))[siteId].FirstOrDefault(health => health.FeedId == feedId);

    private static async Task<Instant?> RestsUntilAsync(FruitWatchStore store, long feedId, ServiceOptions options, Instant now, CancellationToken stop)
    {
        try
        {
            var text = await store.Feeds.Where(feed => feed.Id == feedId).Select(feed => feed.Description).SingleAsync(stop);
            var host = HostPace.HostOf(FeedDescription.Parse(text, options.LocalStationSet));
            var row = await store.FeedHosts.AsNoTracking().SingleOrDefaultAsync(known => known.Authority == host, stop);
            var until = new[] { row?.PausedUntil, row?.RestsUntil }.Max();
            return until > now ? until : null;
        }
        catch (FeedDescriptionException)
        {
            // Told by the feed itself when it is asked.
            return null;
        }
    }
}
