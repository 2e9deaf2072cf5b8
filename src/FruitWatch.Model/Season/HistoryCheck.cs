using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>Refuses weather that cannot be.</summary>
internal static class HistoryCheck
{
    /// <exception cref="ArgumentException">Names the day, what is wrong with it, and what would do.</exception>
    public static void Refuse(IReadOnlyList<WeatherDay> history)
    {
        var seen = new HashSet<LocalDate>();
        foreach (var day in history)
        {
            var wrong =
                !seen.Add(day.Date) ? "is there twice; keep one of them"
                : Outside("Tmax", day.Tmax, -90, 60, "°C")
                ?? Outside("Tmin", day.Tmin, -90, 60, "°C")
                ?? Outside("rain", day.Rain, 0, 2000, "mm")
                ?? (day.Tmin > day.Tmax
                    ? FormattableString.Invariant($"has Tmin {day.Tmin} °C above Tmax {day.Tmax} °C; leave out what is wrong, and it is filled")
                    : null);
            if (wrong is not null)
                throw new ArgumentException($"The weather's day {day.Date:uuuu-MM-dd} {wrong}.", nameof(history));
        }
    }

    // Written so that NaN is outside, too.
    private static string? Outside(string field, double? value, double from, double to, string unit) =>
        value is not { } known || (known >= from && known <= to)
            ? null
            : FormattableString.Invariant($"has a {field} of {known} {unit}, outside {from} to {to}; leave the value out, and it is filled");
}
