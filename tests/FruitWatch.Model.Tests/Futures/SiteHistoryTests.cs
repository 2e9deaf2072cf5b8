using System.Globalization;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Futures;

public class SiteHistoryTests
{
    private static readonly LocalDate s_start = new(2016, 3, 1);
    private static readonly int[] s_midSeasons = [2, 5, 8, 11];

    [Theory]
    [InlineData("Seattle")]
    [InlineData("New York")]
    public void Four_years_of_a_city_give_four_traces_from_any_spring_day(string city)
    {
        var history = new SiteHistory(Cities.Of(city).Days);

        Assert.Equal([2012, 2013, 2014, 2015], history.YearsFrom(s_start, 120).Usable);
        Assert.Equal([2012, 2013, 2014], history.YearsFrom(new LocalDate(2016, 11, 1), 120).Usable); // the last runs out
        Assert.Empty(history.YearsFrom(s_start, 120).WithHoles);
    }

    [Theory]
    [InlineData("Seattle", 0)]
    [InlineData("New York", 1)]
    public void The_spread_of_the_temperatures_is_what_others_found(string city, int row)
    {
        var history = new SiteHistory(Cities.Of(city).Days);

        // RMSE of the climatology of the other years, forecast-uncertainty.csv; worked out there with windows of ±15 days, ours
        // are ±7: a few per cent more.
        Assert.Equal(Published("tmax", "RMSE_leave_one_year_out", row), Rms(history.AnomalySdTmax), 0.25);
        Assert.Equal(Published("tmin", "RMSE_leave_one_year_out", row), Rms(history.AnomalySdTmin), 0.25);
        Assert.Equal(Published("tmax", "RMSE_DJF", row), Rms(history.AnomalySdTmax, 12, 1, 2), 0.35);
        Assert.Equal(Published("tmin", "RMSE_JJA", row), Rms(history.AnomalySdTmin, 6, 7, 8), 0.35);
    }

    [Theory]
    [InlineData("Seattle", 0)]
    [InlineData("New York", 1)]
    public void Wet_days_are_counted_and_kept_as_others_found(string city, int row)
    {
        var history = new SiteHistory(Cities.Of(city).Days);
        var share = Enumerable.Range(1, 12).Sum(m => history.WetShare(m)!.Value * CalendarSystem.Iso.GetDaysInMonth(2013, m)) / 365;
        var amounts = s_midSeasons.SelectMany(history.WetDayAmounts).ToList(); // three months each: every day once

        // Printed to three and to two decimals; the months are weighted without 29 February.
        Assert.Equal(Published("precip", "P_wet_ge_1mm", row), share, 0.001);
        Assert.Equal(Published("precip", "mean_wet_day", row), amounts.Average(), 0.005);
    }

    [Fact]
    public void The_usual_day_is_that_of_the_climatology()
    {
        var history = Outlook.NewYork;
        foreach (var date in new[] { new LocalDate(2016, 1, 1), new LocalDate(2016, 2, 29), new LocalDate(2016, 7, 14) })
        {
            Assert.Equal(history.Climatology.UsualDay(date).Tmax!.Value, history.UsualTmax(date)!.Value, 1e-9);
            Assert.Equal(history.Climatology.UsualDay(date).Tmin!.Value, history.UsualTmin(date)!.Value, 1e-9);
        }
    }

    [Fact]
    public void One_year_tells_neither_what_is_usual_nor_how_far_days_stray()
    {
        var history = new SiteHistory(Cities.NewYork.Where(day => day.Date.Year == 2014));

        Assert.Null(history.UsualTmax(s_start));
        Assert.Null(history.AnomalySdTmax(6));
        Assert.NotNull(history.WetShare(6));
    }

    [Fact]
    public void Forecasts_and_filled_gaps_are_no_history()
    {
        var history = new SiteHistory(Cities.NewYork.Select((day, i) => day.From(i % 2 == 0 ? Provenance.Forecast : Provenance.GapFilled)));

        Assert.Equal(0, history.Days);
        Assert.Null(history.UsualTmax(s_start));
        Assert.Empty(history.WetDayAmounts(5));
        Assert.Empty(history.YearsFrom(s_start, 120).Usable);
    }

    [Fact]
    public void A_gauge_reading_is_history()
    {
        var history = new SiteHistory(Cities.NewYork.Select(day => day with { RainFrom = Provenance.Gauge }));

        Assert.Equal(Outlook.NewYork.WetShare(5), history.WetShare(5));
    }

    [Theory]
    [InlineData(12, true)] // a tenth of 120 days
    [InlineData(13, false)]
    public void A_year_with_more_than_a_tenth_of_its_days_missing_is_not_used_and_named(int missing, bool used)
    {
        var hole = Enumerable.Range(0, missing).Select(i => new LocalDate(2014, 4, 1).PlusDays(i)).ToHashSet();
        var years = new SiteHistory(Cities.NewYork.Where(day => !hole.Contains(day.Date))).YearsFrom(s_start, 120);

        Assert.Equal(used ? [2012, 2013, 2014, 2015] : [2012, 2013, 2015], years.Usable);
        Assert.Equal(used ? [] : [2014], years.WithHoles);
    }

    [Fact]
    public void Short_holes_of_a_trace_are_filled_as_gaps_are()
    {
        var hole = new LocalDate(2014, 4, 1);
        var history = new SiteHistory(Cities.NewYork.Where(day => day.Date != hole));
        var before = Cities.NewYork.Single(day => day.Date == hole.PlusDays(-1));
        var after = Cities.NewYork.Single(day => day.Date == hole.PlusDays(1));

        var filled = history.Day(hole)!;

        Assert.Equal((before.Tmax!.Value + after.Tmax!.Value) / 2, filled.Tmax!.Value, 1e-9);
        Assert.Equal(history.Climatology.RainOf(4), filled.Rain);
        Assert.Equal(Provenance.GapFilled, filled.RainFrom);
    }

    [Fact]
    public void Days_left_out_are_really_not_used()
    {
        var target = new DateInterval(new LocalDate(2013, 1, 1), new LocalDate(2013, 12, 31));
        var changed = Cities.NewYork.Select(day => target.Contains(day.Date) ? day with { Tmax = 50, Tmin = 45, Rain = 99 } : day);

        AssertSame(new SiteHistory(Cities.NewYork, target), new SiteHistory(changed, target));
        Assert.NotEqual(new SiteHistory(changed).AnomalySdTmax(5), Outlook.NewYork.AnomalySdTmax(5)); // it would have mattered
    }

    [Fact]
    public void To_make_an_outlook_of_the_past_again_what_came_after_it_is_left_out()
    {
        var issued = new LocalDate(2013, 10, 5);
        var changed = Cities.NewYork.Select(day =>
            day.Date >= issued && day.Date < issued.PlusDays(300) ? day with { Tmax = 50, Tmin = 45, Rain = 99 } : day);
        var history = SiteHistory.WithoutTarget(Cities.NewYork, issued);

        AssertSame(history, SiteHistory.WithoutTarget(changed, issued));
        Assert.Equal([2012, 2014], history.YearsFrom(issued.PlusDays(10), 90).Usable); // 2015 runs out, 2013 is the target
    }

    [Fact]
    public void The_time_looked_ahead_to_is_never_its_own_trace() =>
        Assert.Equal([2012, 2014, 2015], Outlook.NewYork.YearsFrom(new LocalDate(2013, 3, 1), 120).Usable);

    [Fact]
    public void A_long_history_gives_a_year_of_traces_from_a_leap_day() =>
        Assert.Equal([2012, 2013, 2014], Outlook.NewYork.YearsFrom(new LocalDate(2016, 2, 29), 365).Usable);

    private static void AssertSame(SiteHistory one, SiteHistory other)
    {
        for (var month = 1; month <= 12; month++)
        {
            Assert.Equal(one.AnomalySdTmax(month), other.AnomalySdTmax(month));
            Assert.Equal(one.AnomalySdTmin(month), other.AnomalySdTmin(month));
            Assert.Equal(one.WetShare(month), other.WetShare(month));
            Assert.Equal(one.WetDayAmounts(month), other.WetDayAmounts(month));
            var start = new LocalDate(2016, month, 3);
            Assert.Equal(one.YearsFrom(start, 120).Usable, other.YearsFrom(start, 120).Usable);
            Assert.Equal(one.UsualTmax(start), other.UsualTmax(start));
            Assert.Equal(one.UsualTmin(start), other.UsualTmin(start));
            Assert.Equal(one.Climatology.UsualDay(start), other.Climatology.UsualDay(start));
        }
    }

    private static double Rms(Func<int, double?> sd, params int[] months) =>
        Math.Sqrt((months.Length == 0 ? Enumerable.Range(1, 12) : months).Average(m => sd(m)!.Value * sd(m)!.Value));

    private static double Published(string variable, string metric, int row) => double.Parse(
        CheckFile.Read("Futures/forecast-uncertainty.csv")
            .Where(r => r["variable"] == variable && r["lead_day"] == "climatology" && r["error_metric"] == metric)
            .ElementAt(row)["value"],
        CultureInfo.InvariantCulture);
}
