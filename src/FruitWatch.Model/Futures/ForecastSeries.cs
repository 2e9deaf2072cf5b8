using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>A day of a forecast with both temperatures; rain may be unknown.</summary>
/// <param name="Weather">The day.</param>
/// <param name="FromCalendar">The temperatures are the usual ones: nothing was forecast near it.</param>
internal readonly record struct ForecastDay(WeatherDay Weather, bool FromCalendar);

/// <summary>A single forecast from today on without holes in its temperatures.</summary>
/// <param name="Days">Consecutive days; may be empty.</param>
/// <param name="Filled">How many of them had to be filled.</param>
/// <param name="CutAt">First day of a hole that could not be filled; null where the forecast is used to its end.</param>
internal sealed record ForecastSeries(IReadOnlyList<ForecastDay> Days, int Filled, LocalDate? CutAt)
{
    public static ForecastSeries Read(IEnumerable<WeatherDay> forecast, LocalDate today, int atMost, Climatology climatology)
    {
        var known = ByDate(forecast);
        var last = known.Values.Where(HasTemperatures).Select(d => d.Date).Append(today.PlusDays(-1)).Max();
        var end = LocalDate.Min(last, today.PlusDays(atMost - 1));
        var days = new List<ForecastDay>();
        var filled = 0;
        for (var date = today; date <= end; date = date.PlusDays(1))
        {
            var given = known.GetValueOrDefault(date) ?? new WeatherDay(date, null, null, null);
            if (HasTemperatures(given))
            {
                days.Add(new ForecastDay(given, false));
                continue;
            }

            var day = GapFilling.Fill(given, known, climatology) with { Rain = given.Rain, RainFrom = given.RainFrom };
            if (!HasTemperatures(day))
                return new ForecastSeries(days, filled, date);
            filled++;
            var usual = climatology.UsualDay(date);
            days.Add(new ForecastDay(day, given.Tmax is null && given.Tmin is null && day.Tmax == usual.Tmax && day.Tmin == usual.Tmin));
        }

        return new ForecastSeries(days, filled, null);
    }

    /// <exception cref="ArgumentException">A day is there twice.</exception>
    public static Dictionary<LocalDate, WeatherDay> ByDate(IEnumerable<WeatherDay> days)
    {
        var known = new Dictionary<LocalDate, WeatherDay>();
        foreach (var day in days)
            if (!known.TryAdd(day.Date, day))
                throw new ArgumentException($"{day.Date:uuuu-MM-dd} is there twice in one series; keep one of the two.", nameof(days));
        return known;
    }

    private static bool HasTemperatures(WeatherDay day) => day is { Tmax: not null, Tmin: not null };
}
