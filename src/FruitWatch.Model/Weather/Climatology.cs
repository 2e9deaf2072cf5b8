using NodaTime;

namespace FruitWatch.Model.Weather;

/// <summary>What is usual at a site by the calendar, from the days that were observed there.</summary>
public sealed class Climatology
{
    private const int WindowDays = 7;

    private readonly Dictionary<LocalDate, WeatherDay> observed = [];
    private readonly Dictionary<AnnualDate, WeatherDay> usual = [];
    private readonly double?[] monthlyRain = new double?[13];
    private readonly int firstYear = int.MaxValue;
    private readonly int lastYear = int.MinValue;

    /// <summary>Takes the observed values of a site's days; forecasts and filled gaps among them do not count.</summary>
    public Climatology(IEnumerable<WeatherDay> days)
    {
        ArgumentNullException.ThrowIfNull(days);
        foreach (var day in days)
        {
            observed[day.Date] = new WeatherDay(
                day.Date,
                IsObserved(day.TmaxFrom) ? day.Tmax : null,
                IsObserved(day.TminFrom) ? day.Tmin : null,
                IsObserved(day.RainFrom) ? day.Rain : null);
            firstYear = Math.Min(firstYear, day.Date.Year);
            lastYear = Math.Max(lastYear, day.Date.Year);
        }

        foreach (var month in observed.Values.Where(d => d.Rain is not null).GroupBy(d => d.Date.Month))
            monthlyRain[month.Key] = month.Average(d => d.Rain);
    }

    /// <summary>Mean daily rain of a month of the year, or null where no such month was observed. [mm/d]</summary>
    /// <param name="month">1…12</param>
    public double? RainOf(int month) => monthlyRain[month];

    /// <summary>
    /// The usual day: means over the same calendar day, seven days to either side, in every year; marked as gap-filled.
    /// What was never observed around that day is null.
    /// </summary>
    public WeatherDay UsualDay(LocalDate date)
    {
        var key = new AnnualDate(date.Month, date.Day);
        if (!usual.TryGetValue(key, out var day))
            usual[key] = day = Mean(key);
        return (day with { Date = date }).From(Provenance.GapFilled);
    }

    private WeatherDay Mean(AnnualDate key)
    {
        Average tmax = default, tmin = default, rain = default;
        // A year more on either side: days around New Year belong to windows of the neighbouring years.
        for (var year = firstYear - 1L; year <= lastYear + 1L && observed.Count > 0; year++)
        {
            var centre = key.InYear((int)year);
            for (var offset = -WindowDays; offset <= WindowDays; offset++)
            {
                if (!observed.TryGetValue(centre.PlusDays(offset), out var day))
                    continue;
                tmax.Add(day.Tmax);
                tmin.Add(day.Tmin);
                rain.Add(day.Rain);
            }
        }

        return new WeatherDay(default, tmax.Value, tmin.Value, rain.Value);
    }

    private static bool IsObserved(Provenance from) => from is Provenance.Observed or Provenance.Gauge;

    private struct Average
    {
        private double sum;
        private int count;

        public readonly double? Value => count == 0 ? null : sum / count;

        public void Add(double? value)
        {
            if (value is not { } known)
                return;
            sum += known;
            count++;
        }
    }
}
