using CsCheck;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Weather;

public class GapFillingTests
{
    private static readonly LocalDate s_first = new(2026, 5, 1);
    private static readonly Climatology s_none = new([]);

    /// <summary>Mays at 18 and 8 °C with 3 mm a day, Junes at 24 and 14 °C with 1 mm, in two earlier years.</summary>
    private static readonly Climatology s_usual = new(
        new[] { 2023, 2024 }.SelectMany(year => Enumerable.Range(0, 61).Select(i => new LocalDate(year, 5, 1).PlusDays(i)))
            .Select(date => date.Month == 5 ? new WeatherDay(date, 18, 8, 3) : new WeatherDay(date, 24, 14, 1)));

    [Fact]
    public void Complete_days_are_left_as_they_are()
    {
        WeatherDay[] known =
        [
            new(s_first, 20, 10, 0) { Humidity = 70, Wind = 2 },
            new WeatherDay(s_first.PlusDays(1), 22, 12, 5).From(Provenance.Forecast),
        ];

        var complete = GapFilling.Complete(known.Reverse(), s_first, s_first.PlusDays(1), s_none);

        Assert.Equal(known, complete.Days);
        Assert.Null(complete.StoppedAt);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Temperatures_of_a_short_gap_lie_on_a_straight_line_and_rain_is_the_months_mean(int length)
    {
        var complete = GapFilling.Complete(
            [new(s_first, 10, 0, 0), new(s_first.PlusDays(length + 1), 10 + 4 * (length + 1), 2 * (length + 1), 0)],
            s_first, s_first.PlusDays(length + 1), s_usual);

        for (var i = 1; i <= length; i++)
        {
            var day = complete.Days[i];
            Assert.Equal(10 + 4 * i, day.Tmax!.Value, 1e-12);
            Assert.Equal(2 * i, day.Tmin!.Value, 1e-12);
            Assert.Equal(3, day.Rain);
            Assert.Equal(
                (Provenance.GapFilled, Provenance.GapFilled, Provenance.GapFilled), (day.TmaxFrom, day.TminFrom, day.RainFrom));
        }
    }

    [Fact]
    public void Every_day_of_a_longer_gap_is_the_usual_one()
    {
        var complete = GapFilling.Complete(
            [new(s_first, 10, 0, 0), new(s_first.PlusDays(5), 10, 0, 0)], s_first, s_first.PlusDays(5), s_usual);

        Assert.All(complete.Days.Skip(1).Take(4), day =>
            Assert.Equal((18.0, 8.0, 3.0, Provenance.GapFilled), (day.Tmax, day.Tmin, day.Rain, day.TmaxFrom)));
    }

    [Fact]
    public void Before_the_first_and_after_the_last_known_day_the_usual_one_stands_in()
    {
        var complete = GapFilling.Complete([new(s_first.PlusDays(1), 10, 0, 0)], s_first, s_first.PlusDays(2), s_usual);

        Assert.Equal([18, 10, 18], complete.Days.Select(day => day.Tmax!.Value));
    }

    [Fact]
    public void Each_value_is_filled_for_itself()
    {
        var complete = GapFilling.Complete(
            [new(s_first, 10, 4, 0), new(s_first.PlusDays(1), null, 5, null), new(s_first.PlusDays(2), 14, 4, 0)],
            s_first, s_first.PlusDays(2), s_usual);

        var day = complete.Days[1];
        Assert.Equal((12.0, 5.0, 3.0), (day.Tmax!.Value, day.Tmin!.Value, day.Rain!.Value));
        Assert.Equal((Provenance.GapFilled, Provenance.Observed, Provenance.GapFilled), (day.TmaxFrom, day.TminFrom, day.RainFrom));
    }

    [Fact]
    public void Unknown_rain_of_a_dry_month_is_still_not_zero_but_what_is_usual()
    {
        var complete = GapFilling.Complete(
            [new(s_first, 10, 4, 0), new(s_first.PlusDays(1), 12, 5, null), new(s_first.PlusDays(2), 14, 4, 0)],
            s_first, s_first.PlusDays(2), s_usual);

        Assert.Equal((3.0, Provenance.GapFilled), (complete.Days[1].Rain!.Value, complete.Days[1].RainFrom));
    }

    [Fact]
    public void Without_a_climatology_the_days_stop_before_the_first_that_cannot_be_told()
    {
        var complete = GapFilling.Complete(
            [new(s_first, 10, 4, 0), new(s_first.PlusDays(1), 12, 5, null), new(s_first.PlusDays(2), 14, 4, 0)],
            s_first, s_first.PlusDays(2), s_none);

        Assert.Equal(s_first.PlusDays(1), complete.StoppedAt);
        Assert.Equal([s_first], complete.Days.Select(day => day.Date));
    }

    [Fact]
    public void Without_a_climatology_a_short_gap_of_temperature_alone_is_still_bridged()
    {
        var complete = GapFilling.Complete(
            [new(s_first, 10, 4, 0), new(s_first.PlusDays(1), null, null, 7), new(s_first.PlusDays(2), 14, 4, 0)],
            s_first, s_first.PlusDays(2), s_none);

        Assert.Null(complete.StoppedAt);
        Assert.Equal((12.0, 7.0, Provenance.Observed), (complete.Days[1].Tmax!.Value, complete.Days[1].Rain!.Value, complete.Days[1].RainFrom));
    }

    [Fact]
    public void A_filled_extreme_never_crosses_the_one_that_is_known()
    {
        var warmNight = GapFilling.Complete([new(s_first, null, 19, 0)], s_first, s_first, s_usual).Days[0];
        var coolDay = GapFilling.Complete([new(s_first, 6, null, 0)], s_first, s_first, s_usual).Days[0];

        Assert.Equal((19.0, 19.0), (warmNight.Tmax!.Value, warmNight.Tmin!.Value));
        Assert.Equal((6.0, 6.0), (coolDay.Tmax!.Value, coolDay.Tmin!.Value));
    }

    [Fact]
    public void A_gap_over_the_end_of_February_and_of_the_year_is_as_long_as_the_calendar_says()
    {
        var leap = GapFilling.Complete(
            [new(new(2024, 2, 27), 10, 0, 0), new(new(2024, 3, 2), 18, 0, 0)], new(2024, 2, 27), new(2024, 3, 2), Winter());
        var newYear = GapFilling.Complete(
            [new(new(2025, 12, 30), 10, 0, 0), new(new(2026, 1, 2), 16, 0, 0)], new(2025, 12, 30), new(2026, 1, 2), Winter());

        Assert.Equal([10, 12, 14, 16, 18], leap.Days.Select(day => day.Tmax!.Value));
        Assert.Equal([10, 12, 14, 16], newYear.Days.Select(day => day.Tmax!.Value));
    }

    [Fact]
    public void Every_day_it_gives_is_complete_and_says_where_each_value_came_from() =>
        Gen.Select(Value, Value, Value).Array[1, 60].Sample(values =>
        {
            var known = values.Select((v, i) => new WeatherDay(s_first.PlusDays(i), v.Item1 + 10, v.Item2, v.Item3)).ToList();
            var complete = GapFilling.Complete(known, s_first, s_first.PlusDays(values.Length - 1), s_usual);

            Assert.Null(complete.StoppedAt);
            Assert.Equal(known.Select(day => day.Date), complete.Days.Select(day => day.Date));
            foreach (var (before, after) in known.Zip(complete.Days))
            {
                Assert.True(after.Tmin <= after.Tmax);
                Kept(before.Tmax, after.Tmax, after.TmaxFrom);
                Kept(before.Tmin, after.Tmin, after.TminFrom);
                Kept(before.Rain, after.Rain, after.RainFrom);
            }
        });

    private static Gen<double?> Value { get; } = Gen.Frequency((3, Gen.Double[0, 10].Select(v => (double?)v)), (1, Gen.Const((double?)null)));

    private static void Kept(double? before, double? after, Provenance from)
    {
        Assert.NotNull(after);
        Assert.Equal(before is null ? Provenance.GapFilled : Provenance.Observed, from);
        Assert.True(before is null || before == after);
    }

    private static Climatology Winter() =>
        new(Enumerable.Range(0, 365).Select(i => new WeatherDay(new LocalDate(2022, 1, 1).PlusDays(i), 10, 0, 2)));
}
