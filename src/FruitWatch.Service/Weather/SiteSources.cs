using FruitWatch.Model.Weather;
using FruitWatch.Service.Log;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>What is known of a site's weather, source by source.</summary>
internal static class SiteSources
{
    /// <summary>
    /// What is known of the past, best source first; then forecasts, the latest first, which also stand in for a past that no feed told.
    /// </summary>
    public static IEnumerable<(DaySource Source, IEnumerable<WeatherDay> Days)> Of(
        Site site,
        LocalDate today,
        IReadOnlyList<WeatherRecord> records,
        IEnumerable<(ForecastIssue Issue, ForecastPayload Payload)> forecasts,
        IReadOnlyDictionary<long, string> titles)
    {
        var past = records.Where(r => r.Date < today).ToLookup(r => r.FeedId);
        foreach (var slot in FilledSlot.Feeds(site))
            yield return (new DaySource(KindOf(slot.Slot), slot.FeedId, titles.GetValueOrDefault(slot.FeedId, "")), past[slot.FeedId].Select(r => r.ToDay()));
        foreach (var (issue, payload) in forecasts)
            yield return (new DaySource(SourceKind.Forecast, issue.FeedId, titles.GetValueOrDefault(issue.FeedId, "")), payload.Days);
    }

    /// <summary>Readings of the growers' own gauges; of two of one day the later one. [mm]</summary>
    public static Dictionary<LocalDate, double> Gauge(IEnumerable<LogEntry> log)
    {
        var readings = new Dictionary<LocalDate, double>();
        foreach (var entry in log.Where(e => e is { Kind: LogKinds.Gauge, Amount: not null }).OrderBy(e => e.RecordedAt))
            readings[entry.On] = entry.Amount!.Value;
        return readings;
    }

    /// <summary>The days gone by of a site, in all years that make a climate. Four queries.</summary>
    public static async Task<MergedWeather> PastAsync(FruitWatchStore store, Site site, LocalDate today, CancellationToken stop)
    {
        var siteId = site.Id;
        var records = await store.LoadWeatherAsync([siteId], today.PlusYears(-WeatherPull.YearsBack), today.PlusDays(-1), stop);
        var gauge = await store.LogEntries.AsNoTracking()
            .Where(e => e.Kind == LogKinds.Gauge && e.UndoneAt == null && store.Beds.Any(bed => bed.Id == e.BedId && bed.SiteId == siteId && bed.RetiredOn == null))
            .ToListAsync(stop);
        var ids = FilledSlot.Feeds(site).Select(slot => slot.FeedId).ToArray();
        var titles = await store.Feeds.AsNoTracking().Where(f => EF.Parameter(ids).Contains(f.Id))
            .Select(f => new { f.Id, f.Title }).ToDictionaryAsync(f => f.Id, f => f.Title, stop);
        return SiteWeather.Merge(Of(site, today, [.. records[siteId]], [], titles), Gauge(gauge.Where(entry => entry.On < today)));
    }

    private static SourceKind KindOf(FeedSlot slot) => slot switch
    {
        FeedSlot.Station => SourceKind.Station,
        FeedSlot.Archive => SourceKind.Archive,
        _ => SourceKind.ForecastPast,
    };
}
