using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Demo.Weather;

/// <summary>
/// Forecasts made from the truth with errors that grow with lead. A later forecast of the same day revises the earlier one and does
/// not start anew: the error at a lead is the sum of the revisions that are still to come. Rain that is far ahead is that of some
/// other day of the season, and comes right at some lead: misses and false alarms.
/// </summary>
internal sealed class DemoForecasts(DemoWeather weather, long seed)
{
    /// <summary>Days after the day of issue.</summary>
    public const int LastLead = 8;

    private const double OwnError = 0.9;
    private const double Revision = 1.1;
    private const double RevisionPersistence = 0.6;

    /// <summary>The forecast of a place as issued in the morning of a day: that day and the eight after it.</summary>
    public IReadOnlyList<WeatherDay> Issue(DemoPlace place, LocalDate issued)
    {
        var revisions = Enumerable.Range(0, LastLead + 1).Select(later => Revisions(place, issued.PlusDays(later))).ToArray();
        var days = new List<WeatherDay>();
        for (var lead = 0; lead <= LastLead && issued.PlusDays(lead) <= weather.Last; lead++)
            days.Add(Day(place, issued.PlusDays(lead), lead, revisions));
        return days;
    }

    /// <summary>What the forecast issued on a day changes, by lead. [°C]</summary>
    private double[] Revisions(DemoPlace place, LocalDate issued)
    {
        var chance = Chance.Of(seed, Stream.Revision, place.Number, InventedRegion.DayNumber(issued));
        var changes = new double[LastLead + 1];
        var change = chance.Normal();
        for (var lead = 0; lead <= LastLead; lead++)
        {
            changes[lead] = Revision * change;
            change = RevisionPersistence * change + Math.Sqrt(1 - RevisionPersistence * RevisionPersistence) * chance.Normal();
        }

        return changes;
    }

    private WeatherDay Day(DemoPlace place, LocalDate date, int lead, double[][] revisions)
    {
        var truth = weather.On(place, date);
        var chance = Chance.Of(seed, Stream.Day, place.Number, InventedRegion.DayNumber(date));
        var error = OwnError * chance.Normal();
        for (var left = 0; left < lead; left++)
            error += revisions[lead - left][left];
        var wider = (0.5 + 0.1 * lead) * chance.Normal();
        var damper = (2 + 0.8 * lead) * chance.Normal();
        var tmax = InventedRegion.Tenths(truth.Tmax!.Value + error + wider);
        return new WeatherDay(
            date,
            tmax,
            Math.Min(tmax, InventedRegion.Tenths(truth.Tmin!.Value + error - wider)),
            InventedRegion.Tenths(Rain(place, truth, lead, ref chance)))
        {
            Humidity = truth.Humidity is { } humidity ? Math.Clamp(InventedRegion.Tenths(humidity + damper), 20, 100) : null,
        }.From(Provenance.Forecast);
    }

    private double Rain(DemoPlace place, WeatherDay truth, int lead, ref Chance chance)
    {
        var comesRight = chance.Uniform();
        var amountError = chance.Normal();
        var other = Usual(place, truth.Date, ref chance);
        if (comesRight < 0.04 + 0.095 * lead)
            return other;
        return truth.Rain == 0 ? 0 : Math.Max(0.1, truth.Rain!.Value * Math.Max(0.25, 1 + (0.15 + 0.07 * lead) * amountError));
    }

    /// <summary>Rain of a day of the same season in some year.</summary>
    private double Usual(DemoPlace place, LocalDate date, ref Chance chance)
    {
        var year = chance.Between(weather.First.Year, weather.Last.Year);
        var other = new AnnualDate(date.Month, date.Day).InYear(year).PlusDays(chance.Between(-10, 10));
        return weather.On(place, LocalDate.Max(weather.First, LocalDate.Min(weather.Last, other))).Rain!.Value;
    }

    private static class Stream
    {
        public const long Revision = 101;
        public const long Day = 102;
    }
}
