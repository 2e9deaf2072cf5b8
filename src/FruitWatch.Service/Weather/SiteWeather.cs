using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>A site's days, put together.</summary>
/// <param name="Days">One entry for every day of which anything is known, in order.</param>
/// <param name="Sources">Beside each, where its values came from.</param>
internal sealed record MergedWeather(IReadOnlyList<WeatherDay> Days, IReadOnlyList<DaySources> Sources)
{
    /// <summary>Where a day's values came from.</summary>
    public DaySources On(LocalDate date)
    {
        var (low, high) = (0, Days.Count - 1);
        while (low <= high)
        {
            var middle = (low + high) / 2;
            var order = Days[middle].Date.CompareTo(date);
            if (order == 0)
                return Sources[middle];
            (low, high) = order < 0 ? (middle + 1, high) : (low, middle - 1);
        }

        return default;
    }
}

/// <summary>
/// Puts a site's days together. For every value the best source wins: the grower's gauge, the station, the archive, what the forecast
/// feed says of past days, the latest forecast that reached the day.
/// </summary>
internal static class SiteWeather
{
    /// <summary>One entry for every day of which anything is known.</summary>
    /// <param name="sources">Days of each source, the best first.</param>
    /// <param name="gauge">The grower's own readings. [mm]</param>
    public static MergedWeather Merge(
        IEnumerable<(DaySource Source, IEnumerable<WeatherDay> Days)> sources, IReadOnlyDictionary<LocalDate, double> gauge)
    {
        var merged = new SortedDictionary<LocalDate, (WeatherDay Day, DaySources Origin)>();
        foreach (var (source, days) in sources)
        {
            foreach (var day in days)
            {
                merged[day.Date] = merged.TryGetValue(day.Date, out var better)
                    ? Complete(better.Day, better.Origin, day, source)
                    : (day, new DaySources(HasTemperature(day) ? source : null, day.Rain is null ? null : source));
            }
        }

        foreach (var (date, mm) in gauge)
        {
            var (day, origin) = merged.TryGetValue(date, out var known) ? known : (new WeatherDay(date, null, null, null), default);
            merged[date] = (day with { Rain = mm, RainFrom = Provenance.Gauge }, origin with { Rain = DaySource.Gauge });
        }

        return new MergedWeather([.. merged.Values.Select(one => one.Day)], [.. merged.Values.Select(one => one.Origin)]);
    }

    private static (WeatherDay, DaySources) Complete(WeatherDay better, DaySources origin, WeatherDay other, DaySource source)
    {
        var day = better;
        // Both extremes from one source: a maximum of one station and a minimum of another can stand the wrong way round.
        if (better is not { Tmax: not null, Tmin: not null } && other is { Tmax: not null, Tmin: not null })
        {
            day = day with { Tmax = other.Tmax, TmaxFrom = other.TmaxFrom, Tmin = other.Tmin, TminFrom = other.TminFrom };
            origin = origin with { Temperature = source };
        }

        if (day.Rain is null && other.Rain is not null)
        {
            day = day with { Rain = other.Rain, RainFrom = other.RainFrom };
            origin = origin with { Rain = source };
        }

        return (day with
        {
            Humidity = day.Humidity ?? other.Humidity,
            DewPoint = day.DewPoint ?? other.DewPoint,
            Wind = day.Wind ?? other.Wind,
            Radiation = day.Radiation ?? other.Radiation,
            FeedEvapotranspiration = day.FeedEvapotranspiration ?? other.FeedEvapotranspiration,
        }, origin);
    }

    private static bool HasTemperature(WeatherDay day) => (day.Tmax ?? day.Tmin) is not null;
}
