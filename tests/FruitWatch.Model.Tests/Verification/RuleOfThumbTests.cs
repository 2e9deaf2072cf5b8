using FruitWatch.Model.Verification;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Verification;

public class RuleOfThumbTests
{
    private static readonly LocalDate s_first = new(2025, 9, 1);

    [Theory]
    [InlineData(25, 13, true)]
    [InlineData(25, 24, true)]
    [InlineData(60, 18, true)]
    [InlineData(24.9, 18, false)]
    [InlineData(0, 18, false)]
    [InlineData(40, 12.9, false)]
    [InlineData(40, 24.1, false)]
    public void Pins_are_expected_after_an_inch_of_rain_in_a_mild_week(double rain, double mean, bool expected) =>
        Assert.Equal(expected, RuleOfThumb.ExpectsPins(Week(mean, rain)));

    [Fact]
    public void Tenths_of_a_millimetre_add_up_to_a_soaking_rain()
    {
        double[] rains = [2.4, 3.8, 1.6, 4.3, 6.5, 5.5, 0.9]; // 25.0 by hand, a last bit less in binary
        var week = Week(18, 0);

        Assert.True(rains.Aggregate((sum, rain) => sum + rain) < 25);
        Assert.True(RuleOfThumb.ExpectsPins([.. week.Zip(rains, (day, rain) => day with { Rain = rain })]));
    }

    [Fact]
    public void The_mean_is_that_of_the_week_and_not_of_each_day()
    {
        var week = Week(18, 30).Select((day, i) => day with { Tmax = i == 3 ? 40 : day.Tmax, Tmin = i == 3 ? 20 : day.Tmin }).ToList();

        Assert.True(RuleOfThumb.ExpectsPins(week)); // one day of 30 °C: mean 19.7
    }

    [Fact]
    public void Unknown_rain_decides_nothing_by_itself() => Assert.Null(RuleOfThumb.ExpectsPins(Without(Week(18, 20), rain: true)));

    [Fact]
    public void Enough_known_rain_is_enough_whatever_fell_on_the_unknown_day() =>
        Assert.True(RuleOfThumb.ExpectsPins(Without(Week(18, 30), rain: true)));

    [Fact]
    public void A_week_too_cold_is_a_no_whatever_rain_fell() => Assert.False(RuleOfThumb.ExpectsPins(Without(Week(5, 0), rain: true)));

    [Fact]
    public void A_dry_week_is_a_no_however_warm_it_was() => Assert.False(RuleOfThumb.ExpectsPins(Without(Week(18, 3), rain: false)));

    [Fact]
    public void An_unknown_temperature_after_a_soaking_rain_decides_nothing() =>
        Assert.Null(RuleOfThumb.ExpectsPins(Without(Week(18, 40), rain: false)));

    [Fact]
    public void Usual_weather_put_into_a_gap_is_not_known()
    {
        var week = Week(18, 20);
        week[2] = (week[2] with { Rain = 9 }).From(Provenance.GapFilled);

        Assert.Null(RuleOfThumb.ExpectsPins(week));
    }

    [Theory]
    [InlineData(Provenance.Forecast)]
    [InlineData(Provenance.Gauge)]
    [InlineData(Provenance.Estimated)]
    public void Every_other_source_is_known(Provenance from) =>
        Assert.True(RuleOfThumb.ExpectsPins([.. Week(18, 30).Select(day => day.From(from))]));

    [Fact]
    public void Anything_but_seven_days_in_a_row_is_refused()
    {
        var week = Week(18, 30);

        Assert.Throws<ArgumentException>(() => RuleOfThumb.ExpectsPins(week[1..]));
        Assert.Throws<ArgumentException>(() => RuleOfThumb.ExpectsPins([.. week.AsEnumerable().Reverse()]));
        var swapped = Assert.Throws<ArgumentException>(() => RuleOfThumb.ExpectsPins([.. week[..5], week[6], week[5]]));
        Assert.Contains("2025-09-07 does not follow 2025-09-05", swapped.Message, StringComparison.Ordinal);
    }

    private static List<WeatherDay> Week(double mean, double rain) =>
        [.. Enumerable.Range(0, 7).Select(i => new WeatherDay(s_first.PlusDays(i), mean + 5, mean - 5, i == 4 ? rain : 0))];

    /// <summary>One day's rain, or one day's maximum, is not known.</summary>
    private static List<WeatherDay> Without(List<WeatherDay> week, bool rain) =>
        [.. week.Select((day, i) => i != 2 ? day : rain ? new WeatherDay(day.Date, day.Tmax, day.Tmin, null) : new WeatherDay(day.Date, null, day.Tmin, day.Rain))];
}
