using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>
/// Puts a site's days together. For every value the best source wins: the grower's gauge, the history feed, what the forecast
/// feed says of past days, the latest forecast that reached the day.
/// </summary>
internal static class SiteWeather
{
    /// <summary>One entry for every day of which anything is known.</summary>
    /// <param name="sources">Days of each source, the best first.</param>
    /// <param name="gauge">The grower's own readings. [mm]</param>
    public static IReadOnlyList<WeatherDay> Merge(
        IEnumerable<IEnumerable<WeatherDay>> sources, IReadOnlyDictionary<LocalDate, double> gauge)
    {
        var merged = new SortedDictionary<LocalDate, WeatherDay>();
        foreach (var day in sources.SelectMany(source => source))
            merged[day.Date] = merged.TryGetValue(day.Date, out var better) ? Complete(better, day) : day;
        foreach (var (date, mm) in gauge)
        {
            var day = merged.GetValueOrDefault(date) ?? new WeatherDay(date, null, null, null);
            merged[date] = day with { Rain = mm, RainFrom = Provenance.Gauge };
        }

        return [.. merged.Values];
    }

    private static WeatherDay Complete(WeatherDay better, WeatherDay other)
    {
        // Both extremes from one source: a maximum of one station and a minimum of another can stand the wrong way round.
        var day = better is { Tmax: not null, Tmin: not null } || other is not { Tmax: not null, Tmin: not null }
            ? better
            : better with { Tmax = other.Tmax, TmaxFrom = other.TmaxFrom, Tmin = other.Tmin, TminFrom = other.TminFrom };
        if (day.Rain is null && other.Rain is not null)
            day = day with { Rain = other.Rain, RainFrom = other.RainFrom };
        return day with
        {
            Humidity = day.Humidity ?? other.Humidity,
            DewPoint = day.DewPoint ?? other.DewPoint,
            Wind = day.Wind ?? other.Wind,
            Radiation = day.Radiation ?? other.Radiation,
            FeedEvapotranspiration = day.FeedEvapotranspiration ?? other.FeedEvapotranspiration,
        };
    }
}
