using FruitWatch.Feeds;
using FruitWatch.Model.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>Writes what an answer says into a site's history and forecasts.</summary>
internal static class FeedKeeping
{
    /// <summary>Keeps the days gone by, and the days to come as a forecast. Within the transaction that is open, if one is.</summary>
    /// <param name="store">Where to.</param>
    /// <param name="at">Which feed, for which site.</param>
    /// <param name="answered">The answer.</param>
    /// <param name="from">Earlier days are left out.</param>
    /// <param name="stop">Stops it.</param>
    /// <returns>The last day told, and how many days gone by.</returns>
    public static async Task<(LocalDate? LastDay, int Past)> KeepAsync(
        FruitWatchStore store, FeedAtSite at, FeedAnswered answered, LocalDate from, CancellationToken stop)
    {
        var (reading, today) = (answered.Reading, at.Today);
        var members = reading.Members.Select(reading.ToWeather).ToList();
        var days = members.Count > 0 ? EnsembleMean.Of(members.Select(Ahead)) : reading.ToWeather();
        var past = days.Where(d => d.Date < today && d.Date >= from).ToList();
        if (past.Count > 0)
            await store.MergeWeatherAsync(at.Site.Id, at.Feed.Id, past, answered.FetchedAt, answered.FetchedAt, stop);

        var ahead = Ahead(days);
        if (ahead.Count > 0 && reading.Provides is FeedProvides.Forecast or FeedProvides.Both or FeedProvides.Ensemble)
        {
            await store.KeepForecastAsync(
                new ForecastIssue
                {
                    SiteId = at.Site.Id,
                    FeedId = at.Feed.Id,
                    IssuedAt = answered.FetchedAt,
                    FetchedAt = answered.FetchedAt,
                    FirstDay = ahead[0].Date,
                    Days = ahead.Count,
                    Payload = new ForecastPayload(ahead, reading.SpreadUsable ? [.. members.Select(Ahead)] : []).Write(),
                },
                stop);
        }

        return (days.Count > 0 ? days.Max(day => day.Date) : null, past.Count);

        IReadOnlyList<WeatherDay> Ahead(IReadOnlyList<WeatherDay> series) => [.. series.Where(d => d.Date >= today)];
    }
}
