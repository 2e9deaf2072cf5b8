using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Sites;

/// <summary>Makes and changes sites, for programs and for people alike.</summary>
internal sealed class SiteShelf(FruitWatchStore store, ServiceOptions options, IClock clock)
{
    /// <summary>What only shows beside what is kept; what is wrong is noted in the fields.</summary>
    public async Task CheckAsync(SiteChange change, Site? row, IFields fields, CancellationToken stop)
    {
        if (change.CooperativeId is { } other && other != store.Reach.CooperativeId)
            fields.Refuse("cooperativeId", words => words.SiteOtherCooperative);
        var known = await store.Feeds.AsNoTracking().ToDictionaryAsync(feed => feed.Id, stop);
        foreach (var (field, id) in new[] { ("forecastFeedId", change.ForecastFeedId), ("historyFeedId", change.HistoryFeedId), ("stationFeedId", change.StationFeedId) })
        {
            if (id is not { } wanted)
                continue;
            if (!known.TryGetValue(wanted, out var feed))
                fields.Refuse(field, words => words.SiteNoSuchFeed);
            else if (change.Station is null && NeedsStation(feed))
                fields.Refuse("station", words => words.SiteNeedsStation(feed.Title));
        }
    }

    public async Task<Site> AddAsync(SiteChange change, CancellationToken stop)
    {
        var row = new Site { Name = "", ZoneId = "", CooperativeId = store.Reach.CooperativeId };
        change.Put(row);
        store.Sites.Add(row);
        await store.SaveChangesAsync(stop);
        return row;
    }

    public async Task ChangeAsync(Site row, SiteChange change, CancellationToken stop)
    {
        var before = (row.Latitude, row.Longitude, row.Elevation, row.ZoneId, row.Station);
        change.Put(row);
        await store.SaveChangesAsync(stop);
        if (before == (row.Latitude, row.Longitude, row.Elevation, row.ZoneId, row.Station))
            return;
        // A site that moved, or names another station, is told another weather: its feeds are due at once.
        var now = clock.GetCurrentInstant();
        await store.SiteFeeds.Where(feed => feed.SiteId == row.Id).ExecuteUpdateAsync(set => set.SetProperty(feed => feed.NextTryAt, now), stop);
    }

    private bool NeedsStation(Feed feed)
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
}
