using NodaTime;

namespace FruitWatch.Model.Weather;

/// <summary>Complete days from a site's weather with holes.</summary>
/// <param name="Days">Consecutive complete days; filled values are marked.</param>
/// <param name="StoppedAt">First day that could not be filled for want of a climatology; null where all could.</param>
public sealed record CompletedWeather(IReadOnlyList<WeatherDay> Days, LocalDate? StoppedAt);

/// <summary>
/// Fills holes. Up to three days: temperatures in a straight line between the neighbours, rain the month's mean. Longer, or
/// without a neighbour: the usual day. With no climatology either, the series stops there. Unknown rain is never zero.
/// </summary>
public static class GapFilling
{
    internal const int ShortGapDays = 3;

    /// <summary>Completes the days from one to another.</summary>
    /// <param name="known">What is known, at most one entry a day, in any order.</param>
    /// <param name="from">First day wanted.</param>
    /// <param name="to">Last day wanted.</param>
    /// <param name="climatology">Of the site.</param>
    public static CompletedWeather Complete(IEnumerable<WeatherDay> known, LocalDate from, LocalDate to, Climatology climatology)
    {
        ArgumentNullException.ThrowIfNull(known);
        ArgumentNullException.ThrowIfNull(climatology);
        var byDate = known.ToDictionary(d => d.Date);
        var days = new List<WeatherDay>();
        for (var date = from; date <= to; date = date.PlusDays(1))
        {
            var day = byDate.GetValueOrDefault(date) ?? new WeatherDay(date, null, null, null);
            if (day is not { Tmax: not null, Tmin: not null, Rain: not null })
                day = Fill(day, byDate, climatology);
            if (day is not { Tmax: not null, Tmin: not null, Rain: not null })
                return new CompletedWeather(days, date);
            days.Add(day);
        }

        return new CompletedWeather(days, null);
    }

    /// <summary>One day with what is missing filled, as far as it can be.</summary>
    internal static WeatherDay Fill(WeatherDay day, Dictionary<LocalDate, WeatherDay> known, Climatology climatology)
    {
        var usual = climatology.UsualDay(day.Date);
        var tmax = day.Tmax ?? Between(day.Date, known, d => d.Tmax) ?? usual.Tmax;
        var tmin = day.Tmin ?? Between(day.Date, known, d => d.Tmin) ?? usual.Tmin;
        if (tmin > tmax)
            (tmax, tmin) = day.Tmax is null ? (tmin, tmin) : (tmax, tmax);
        var shortRainGap = GapAround(day.Date, known, d => d.Rain) is { } gap && gap.Length <= ShortGapDays;
        var rain = day.Rain ?? (shortRainGap ? climatology.RainOf(day.Date.Month) : usual.Rain);
        return day with
        {
            Tmax = tmax,
            Tmin = tmin,
            Rain = rain,
            TmaxFrom = Source(day.Tmax, day.TmaxFrom, tmax),
            TminFrom = Source(day.Tmin, day.TminFrom, tmin),
            RainFrom = Source(day.Rain, day.RainFrom, rain),
        };
    }

    private static Provenance Source(double? given, Provenance from, double? now) =>
        given is not null ? from : now is null ? Provenance.Unknown : Provenance.GapFilled;

    private static double? Between(LocalDate date, Dictionary<LocalDate, WeatherDay> known, Func<WeatherDay, double?> value)
    {
        if (GapAround(date, known, value) is not { } gap || gap.Length > ShortGapDays)
            return null;
        var before = value(known[gap.Before])!.Value;
        var after = value(known[gap.After])!.Value;
        return before + (after - before) * Period.DaysBetween(gap.Before, date) / (gap.Length + 1);
    }

    /// <summary>The known days on both sides of a hole, or null where one is further off than a short gap reaches.</summary>
    private static Gap? GapAround(LocalDate date, Dictionary<LocalDate, WeatherDay> known, Func<WeatherDay, double?> value)
    {
        var before = Nearest(date, -1, known, value);
        var after = Nearest(date, +1, known, value);
        return before is { } b && after is { } a ? new Gap(b, a, Period.DaysBetween(b, a) - 1) : null;
    }

    private static LocalDate? Nearest(
        LocalDate date, int step, Dictionary<LocalDate, WeatherDay> known, Func<WeatherDay, double?> value)
    {
        for (var i = 1; i <= ShortGapDays; i++)
        {
            var there = date.PlusDays(step * i);
            if (known.TryGetValue(there, out var day) && value(day) is not null)
                return there;
        }

        return null;
    }

    private readonly record struct Gap(LocalDate Before, LocalDate After, int Length);
}
