using FruitWatch.Feeds;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>What a pull of a site's feeds brought.</summary>
/// <param name="State"><c>ok</c>, <c>partly</c> or <c>down</c>; <c>none</c> where the site has no feed.</param>
/// <param name="Note">What was wrong, feed by feed, in words.</param>
internal sealed record PulledWeather(string State, string Note);

/// <summary>
/// Asks a site's feeds and keeps what they say, with source and issue time. A feed that is down or whose answer is refused
/// leaves all that was kept as it was.
/// </summary>
internal sealed class WeatherPull(FeedClient client, ServiceOptions options, IClock clock, ILogger<WeatherPull> log)
{
    /// <summary>Days before the oldest bed that a first pull asks for: they warm up the soil.</summary>
    private const int DaysBefore = 60;

    /// <summary>The World Meteorological Organization's climate normals rest on thirty years; older days say little of today's climate.</summary>
    public const int YearsBack = 30;

    /// <summary>Known days that are asked for again: services mend their last days.</summary>
    private const int DaysAgain = 10;

    public async Task<PulledWeather> PullAsync(FruitWatchStore store, long siteId, CancellationToken stop)
    {
        var site = await store.Sites.AsNoTracking().SingleAsync(s => s.Id == siteId, stop);
        var ids = new[] { site.HistoryFeedId, site.ForecastFeedId }.OfType<long>().Distinct().ToArray();
        var feeds = await store.Feeds.AsNoTracking().Where(f => EF.Parameter(ids).Contains(f.Id)).OrderBy(f => f.Id).ToListAsync(stop);
        if (feeds.Count == 0)
            return new PulledWeather("none", "");

        var problems = new List<string>();
        foreach (var feed in feeds)
        {
            if (await PullAsync(store, site, feed, stop) is { } problem)
                problems.Add($"{feed.Title}: {problem}");
        }

        return new PulledWeather(
            problems.Count == 0 ? "ok" : problems.Count < feeds.Count ? "partly" : "down", string.Join("\n", problems));
    }

    private async Task<string?> PullAsync(FruitWatchStore store, Site site, Feed feed, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        try
        {
            var zone = DateTimeZoneProviders.Tzdb[site.ZoneId];
            var today = now.InZone(zone).Date;
            var place = new FeedSite(site.Latitude, site.Longitude, site.Elevation, zone);
            var description = FeedDescription.Parse(feed.Description, options.LocalStationSet);
            var known = await LastKnownAsync(store, site.Id, feed.Id, stop);
            // A file costs nothing to read: all the years that it has make the outlook longer and surer.
            var from = known?.PlusDays(-DaysAgain)
                ?? (description.IsUpload ? today.PlusYears(-YearsBack) : await OldestBedAsync(store, site.Id, today, stop));
            var fetched = await client.FetchAsync(
                description, place, new FeedRequest(today) { Start = from, UploadPath = options.FeedFile(feed.Key) }, stop);
            var reading = FeedReader.Read(description, fetched.Body, place, today, fetched.FetchedAt, from);
            await KeepAsync(store, site, feed, reading, from, today, fetched.FetchedAt, stop);
            return null;
        }
        catch (Exception error) when (error is FeedException or FeedDescriptionException)
        {
            log.LogWarning("Feed {Feed} of site {Site}: {Problem}", feed.Key, site.Id, error.Message);
            return error.Message;
        }
    }

    private static async Task KeepAsync(
        FruitWatchStore store, Site site, Feed feed, FeedReading reading, LocalDate from, LocalDate today, Instant fetchedAt, CancellationToken stop)
    {
        var members = reading.Members.Select(reading.ToWeather).ToList();
        var days = members.Count > 0 ? EnsembleMean.Of(members.Select(Ahead)) : reading.ToWeather();
        var past = days.Where(d => d.Date < today && d.Date >= from).ToList();
        if (past.Count > 0)
            await store.MergeWeatherAsync(site.Id, feed.Id, past, fetchedAt, fetchedAt, stop);

        var ahead = Ahead(days);
        if (ahead.Count > 0 && reading.Provides is FeedProvides.Forecast or FeedProvides.Both or FeedProvides.Ensemble)
        {
            await store.KeepForecastAsync(
                new ForecastIssue
                {
                    SiteId = site.Id,
                    FeedId = feed.Id,
                    IssuedAt = fetchedAt,
                    FetchedAt = fetchedAt,
                    FirstDay = ahead[0].Date,
                    Days = ahead.Count,
                    Payload = new ForecastPayload(ahead, reading.SpreadUsable ? [.. members.Select(Ahead)] : []).Write(),
                },
                stop);
        }

        IReadOnlyList<WeatherDay> Ahead(IReadOnlyList<WeatherDay> series) => [.. series.Where(d => d.Date >= today)];
    }

    private static Task<LocalDate?> LastKnownAsync(FruitWatchStore store, long siteId, long feedId, CancellationToken stop) =>
        store.Weather.Where(w => w.SiteId == siteId && w.FeedId == feedId).MaxAsync(w => (LocalDate?)w.Date, stop);

    private static async Task<LocalDate> OldestBedAsync(FruitWatchStore store, long siteId, LocalDate today, CancellationToken stop) =>
        (await store.Beds.Where(b => b.SiteId == siteId && b.RetiredOn == null).MinAsync(b => (LocalDate?)b.InoculatedOn, stop) ?? today)
        .PlusDays(-DaysBefore);
}
