using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather.Past;

/// <summary>Which past years are fetched: by itself for a site that gets a feed that has them, or because somebody asked.</summary>
internal sealed class Backfills(ServiceOptions options, IClock clock)
{
    /// <summary>Years fetched without being asked for.</summary>
    public const int UsualYears = 10;

    private readonly Lock gate = new();
    private readonly Dictionary<(long Feed, int Version), bool> able = [];

    /// <summary>Begins those that nobody had to ask for.</summary>
    public async Task BeginAsync(FruitWatchStore store, CancellationToken stop)
    {
        // Only feeds that have given good days, so that nothing is asked for by years that is wrong by the day.
        var candidates = await (
            from told in store.SiteFeeds.AsNoTracking()
            join site in store.Sites on told.SiteId equals site.Id
            join feed in store.Feeds on told.FeedId equals feed.Id
            where (site.StationFeedId == feed.Id || site.HistoryFeedId == feed.Id) && told.LastGoodAt != null && told.Question == null
                && !store.Backfills.Any(fill => fill.SiteId == site.Id && fill.FeedId == feed.Id)
            orderby site.Id, feed.Id
            select new { Site = site, Feed = feed }).ToListAsync(stop);
        foreach (var one in candidates.Where(one => IsAble(one.Feed)))
            await store.AddIfNewAsync(await NewAsync(store, one.Site, one.Feed.Id, null, stop), stop);
    }

    /// <summary>Starts a backfill, lets it go on, or lets it reach further back. What came is kept.</summary>
    public async Task StartAsync(FruitWatchStore store, Site site, long feedId, LocalDate? first, CancellationToken stop)
    {
        var known = await store.Backfills.SingleOrDefaultAsync(fill => fill.SiteId == site.Id && fill.FeedId == feedId, stop);
        var wanted = await NewAsync(store, site, feedId, first ?? known?.First, stop);
        if (known is null)
        {
            await store.AddIfNewAsync(wanted, stop);
            return;
        }

        (known.First, known.Next, known.State) = (wanted.First, wanted.Next, wanted.State);
        known.Last = LocalDate.Max(known.Last, wanted.Last);
        (known.Problem, known.FailuresInARow, known.LeaseUntil) = (null, 0, null);
        (known.NextTryAt, known.StartedAt) = (wanted.NextTryAt, wanted.StartedAt);
        await store.SaveChangesAsync(stop);
    }

    /// <summary>Halts a backfill that runs.</summary>
    public static Task HaltAsync(FruitWatchStore store, long siteId, long feedId, CancellationToken stop) => store.Backfills
        .Where(fill => fill.SiteId == siteId && fill.FeedId == feedId && fill.State == BackfillState.Running)
        .ExecuteUpdateAsync(set => set.SetProperty(fill => fill.State, BackfillState.Halted), stop);

    /// <summary>A backfill as it begins.</summary>
    /// <param name="store">Where the known days are.</param>
    /// <param name="site">The site.</param>
    /// <param name="feedId">The feed.</param>
    /// <param name="first">Earliest day wanted; ten years back where left out.</param>
    /// <param name="stop">Stops it.</param>
    public async Task<Backfill> NewAsync(FruitWatchStore store, Site site, long feedId, LocalDate? first, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var today = now.InZone(DateTimeZoneProviders.Tzdb[site.ZoneId]).Date;
        var from = first ?? today.PlusYears(-UsualYears);
        var known = await store.Weather.Where(day => day.SiteId == site.Id && day.FeedId == feedId).MinAsync(day => (LocalDate?)day.Date, stop);
        var last = (known ?? today).PlusDays(-1);
        return new Backfill
        {
            SiteId = site.Id,
            FeedId = feedId,
            First = LocalDate.Min(from, last.PlusDays(1)),
            Last = last,
            Next = last,
            State = last < from ? BackfillState.Done : BackfillState.Running,
            NextTryAt = now,
            StartedAt = now,
        };
    }

    /// <summary>Whether a feed tells of past years: an archive asked by days, or one file that holds them all.</summary>
    public bool IsAble(Feed feed)
    {
        lock (gate)
        {
            if (able.TryGetValue((feed.Id, feed.Version), out var known))
                return known;
        }

        var found = Look(feed);
        lock (gate)
            able[(feed.Id, feed.Version)] = found;
        return found;
    }

    private bool Look(Feed feed)
    {
        try
        {
            var description = FeedDescription.Parse(feed.Description, options.LocalStationSet);
            // A file that was handed in is read whole with the first pull.
            if (description.IsUpload || description.Provides != FeedProvides.History)
                return false;
            var reach = FeedReach.Of(description);
            return reach.ByDays || reach.WholeFile;
        }
        catch (FeedDescriptionException)
        {
            return false;
        }
    }
}
