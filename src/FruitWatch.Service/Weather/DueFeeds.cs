using FruitWatch.Service.Mornings;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>Finds the sites with a feed that is due. The database is the truth: nothing is lost by a restart.</summary>
internal static class DueFeeds
{
    /// <summary>So long before its morning a site's feeds are asked.</summary>
    public static readonly Duration Ahead = Duration.FromMinutes(30);

    /// <summary>Sites whose morning is about to come.</summary>
    public static async Task<IReadOnlyList<long>> FindAheadAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var sites = await store.Sites.AsNoTracking().OrderBy(site => site.Id)
            .Select(site => new { site.Id, site.ZoneId, site.MorningAt }).ToListAsync(stop);
        return
        [
            .. sites.Where(site =>
            {
                var zone = DateTimeZoneProviders.Tzdb[site.ZoneId];
                var morning = LocalMorning.Of((now + Ahead).InZone(zone).Date, site.MorningAt, zone);
                return morning > now && morning <= now + Ahead;
            }).Select(site => site.Id),
        ];
    }

    /// <summary>Sites in the order in which their feeds became due, those never asked first.</summary>
    /// <param name="store">Where sites and tries are kept.</param>
    /// <param name="now">The moment.</param>
    /// <param name="most">So many sites at most; the next tick takes the others.</param>
    /// <param name="stop">Stops it.</param>
    public static async Task<IReadOnlyList<long>> FindAsync(FruitWatchStore store, Instant now, int most, CancellationToken stop)
    {
        var sites = await store.Sites.AsNoTracking()
            .Where(site => site.StationFeedId != null || site.HistoryFeedId != null || site.ForecastFeedId != null)
            .OrderBy(site => site.Id).ToListAsync(stop);
        var versions = await store.Feeds.AsNoTracking().ToDictionaryAsync(feed => feed.Id, feed => feed.Version, stop);
        var tried = (await store.SiteFeeds.AsNoTracking()
            .Select(row => new { row.SiteId, row.FeedId, row.NextTryAt, row.TriedVersion }).ToListAsync(stop))
            .ToDictionary(row => (row.SiteId, row.FeedId));
        return
        [
            .. sites.SelectMany(site => FilledSlot.Feeds(site), (site, slot) => (site.Id, Row: tried.GetValueOrDefault((site.Id, slot.FeedId)), slot.FeedId))
                .Where(pair => WeatherPull.IsDue(pair.Row?.NextTryAt, pair.Row?.TriedVersion, versions[pair.FeedId], now))
                .GroupBy(pair => pair.Id, pair => pair.Row?.NextTryAt ?? Instant.MinValue)
                .OrderBy(site => site.Min()).ThenBy(site => site.Key)
                .Select(site => site.Key).Take(most),
        ];
    }
}
