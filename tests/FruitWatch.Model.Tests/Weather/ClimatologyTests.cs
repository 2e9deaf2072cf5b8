using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Weather;

public class ClimatologyTests
{
    private static readonly LocalDate s_midsummer = new(2024, 6, 21);

    [Fact]
    public void The_usual_day_is_the_mean_of_the_same_day_and_seven_to_either_side()
    {
        var climatology = new Climatology(Days(new(2024, 1, 1), 366, date => Math.Abs(Period.DaysBetween(s_midsummer, date)) <= 7 ? 20 : 0));

        Assert.Equal(20, climatology.UsualDay(s_midsummer).Tmax);
        Assert.Equal(20.0 * 14 / 15, climatology.UsualDay(s_midsummer.PlusDays(1)).Tmax!.Value, 1e-12);
        Assert.Equal(20.0 * 14 / 15, climatology.UsualDay(s_midsummer.PlusDays(-1)).Tmax!.Value, 1e-12);
        Assert.Equal(0, climatology.UsualDay(s_midsummer.PlusDays(15)).Tmax);
    }

    [Fact]
    public void The_usual_day_is_the_mean_over_the_years()
    {
        var climatology = new Climatology(Days(new(2022, 1, 1), 365 * 3, date => date.Year));

        Assert.Equal(2023, climatology.UsualDay(s_midsummer).Tmax!.Value, 1e-9);
    }

    [Fact]
    public void It_holds_for_any_year_and_says_that_it_fills_a_gap()
    {
        var climatology = new Climatology(Days(new(2022, 1, 1), 365, _ => 15));

        var day = climatology.UsualDay(new LocalDate(2031, 3, 4));

        Assert.Equal(new LocalDate(2031, 3, 4), day.Date);
        Assert.Equal((15.0, 5.0, 1.0), (day.Tmax!.Value, day.Tmin!.Value, day.Rain!.Value));
        Assert.Equal(
            (Provenance.GapFilled, Provenance.GapFilled, Provenance.GapFilled), (day.TmaxFrom, day.TminFrom, day.RainFrom));
    }

    [Fact]
    public void Around_New_Year_the_days_of_both_years_count()
    {
        // One winter is known, from 25 December to 7 January: 14 days, the first seven of them at 10 °C, the last at 20 °C.
        var climatology = new Climatology(Days(new(2023, 12, 25), 14, date => date.Year == 2023 ? 10 : 20));

        Assert.Equal((7 * 10 + 7 * 20) / 14.0, climatology.UsualDay(new LocalDate(2030, 12, 31)).Tmax!.Value, 1e-12);
        Assert.Equal((7 * 10 + 7 * 20) / 14.0, climatology.UsualDay(new LocalDate(2030, 1, 1)).Tmax!.Value, 1e-12);
        Assert.Equal((5 * 10 + 7 * 20) / 12.0, climatology.UsualDay(new LocalDate(2030, 1, 3)).Tmax!.Value, 1e-12);
    }

    [Fact]
    public void The_29th_of_February_is_usual_in_every_year()
    {
        var climatology = new Climatology(Days(new(2021, 1, 1), 365 * 2, date => date is { Month: 2, Day: 28 } ? 25 : 10));

        // In the two common years the window lies around 28 February.
        Assert.Equal((2 * 25 + 28 * 10) / 30.0, climatology.UsualDay(new LocalDate(2024, 2, 29)).Tmax!.Value, 1e-12);
    }

    [Fact]
    public void In_a_leap_year_the_29th_counts_among_its_neighbours()
    {
        var climatology = new Climatology(Days(new(2024, 1, 1), 366, date => date is { Month: 2, Day: 29 } ? 25 : 10));

        Assert.Equal((25 + 14 * 10) / 15.0, climatology.UsualDay(new LocalDate(2025, 3, 1)).Tmax!.Value, 1e-12);
    }

    [Fact]
    public void The_rain_of_a_month_is_the_mean_of_its_days_over_the_years()
    {
        var climatology = new Climatology(
            Days(new(2022, 4, 1), 30, _ => 15, rain: 2).Concat(Days(new(2023, 4, 1), 30, _ => 15, rain: 4)));

        Assert.Equal(3, climatology.RainOf(4)!.Value, 1e-12);
        Assert.Null(climatology.RainOf(5));
    }

    [Fact]
    public void Only_what_was_observed_is_usual_and_a_gauge_observes()
    {
        var day = new WeatherDay(s_midsummer, 30, 20, 10);
        var climatology = new Climatology(
        [
            new WeatherDay(s_midsummer.PlusYears(-1), 20, 10, 2) { RainFrom = Provenance.Gauge },
            day.From(Provenance.Forecast),
            day.From(Provenance.GapFilled) with { Date = s_midsummer.PlusDays(1) },
            day.From(Provenance.Estimated) with { Date = s_midsummer.PlusDays(2) },
        ]);

        var usual = climatology.UsualDay(s_midsummer);

        Assert.Equal((20.0, 10.0, 2.0), (usual.Tmax!.Value, usual.Tmin!.Value, usual.Rain!.Value));
        Assert.Equal(2, climatology.RainOf(6));
    }

    [Fact]
    public void What_was_never_observed_is_unknown_and_not_zero()
    {
        var nothing = new Climatology([]).UsualDay(s_midsummer);
        var dry = new Climatology([new WeatherDay(s_midsummer, 20, 10, null)]).UsualDay(s_midsummer);

        Assert.Equal((null, null, null), (nothing.Tmax, nothing.Tmin, nothing.Rain));
        Assert.Null(dry.Rain);
        Assert.Equal(Provenance.Unknown, dry.RainFrom);
        Assert.Equal(20, dry.Tmax);
    }

    private static IEnumerable<WeatherDay> Days(LocalDate first, int count, Func<LocalDate, double> tmax, double rain = 1) =>
        Enumerable.Range(0, count).Select(i => first.PlusDays(i)).Select(date => new WeatherDay(date, tmax(date), tmax(date) - 10, rain));
}
