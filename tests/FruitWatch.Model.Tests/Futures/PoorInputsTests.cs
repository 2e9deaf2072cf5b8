using CsCheck;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Futures;

/// <summary>Feeds and histories as they come: of unequal length, with holes, or not at all.</summary>
public class PoorInputsTests
{
    [Theory]
    [InlineData(2, 64)]
    [InlineData(21, 63)]
    [InlineData(31, 62)]
    [InlineData(51, 51)]
    [InlineData(100, 100)]
    public void Every_member_of_the_feed_has_the_same_weight(int feed, int members)
    {
        var futures = WeatherFutures.Make(Outlook.OfEnsemble(Feed(feed, 10)))!;

        Assert.Equal(FutureSource.Ensemble, futures.Source);
        Assert.Equal(members, futures.Members);
        var weights = Enumerable.Range(0, members).GroupBy(member => futures.Of(member, 0).Tmax).Select(g => g.Count()).ToList();
        Assert.Equal(feed, weights.Count);
        Assert.Single(weights.Distinct());
    }

    [Fact]
    public void Copies_of_a_member_part_after_the_forecast()
    {
        var futures = WeatherFutures.Make(Outlook.OfEnsemble(Feed(21, 10)))!;

        Assert.Equal(futures.Days(0).Take(10), futures.Days(1).Take(10));
        Assert.NotEqual(futures.Of(0, 40), futures.Of(1, 40));
    }

    [Fact]
    public void A_member_that_ends_early_goes_on_from_its_own_last_day()
    {
        var feed = Feed(4, 10);
        feed[1] = feed[1][..6];
        var futures = WeatherFutures.Make(Outlook.OfEnsemble(feed) with { Members = 4 })!;

        Assert.Equal([6, 10], futures.Note(FutureNoteCode.MembersUnequal)!.Numbers);
        Assert.Equal(Outlook.Today.PlusDays(9), futures.LastForecastDay);
        Assert.Equal(feed[1][5].Tmax, futures.Of(1, 5).Tmax);
        Assert.NotEqual(16, futures.Of(1, 6).Tmax);
        Assert.Equal(feed[2][9].Tmax, futures.Of(2, 9).Tmax);
        Assert.Equal(120, futures.Forcing.Days);
    }

    [Fact]
    public void With_no_history_members_are_cut_to_the_shortest()
    {
        var feed = Feed(4, 10);
        feed[1] = feed[1][..6];
        var futures = WeatherFutures.Make(Outlook.OfEnsemble(feed, SiteHistory.None))!;

        Assert.True(futures.IsShort);
        Assert.Equal(6, futures.Forcing.Days);
        Assert.Equal(futures.LastDay, futures.LastForecastDay);
        Assert.NotNull(futures.Note(FutureNoteCode.MembersUnequal));
        Assert.Equal([0], futures.Note(FutureNoteCode.HistoryTooShort)!.Numbers);
    }

    [Fact]
    public void A_short_hole_of_a_member_is_filled_a_long_one_leaves_it_out()
    {
        var feed = Feed(4, 12);
        feed[1].RemoveRange(3, 2);
        feed[2].RemoveRange(3, 4);
        var futures = WeatherFutures.Make(Outlook.OfEnsemble(feed) with { Members = 3 })!;

        Assert.Equal([1, 4], futures.Note(FutureNoteCode.MembersLeftOut)!.Numbers);
        Assert.Equal([1, 2], futures.Note(FutureNoteCode.MemberDaysMissing)!.Numbers);
        Assert.Equal(3, futures.Members);
        Assert.Equal(feed[1][0].Tmax, futures.Of(1, 3).Tmax); // in a straight line between two days alike
        Assert.Equal(Outlook.NewYork.Climatology.RainOf(4), futures.Of(1, 3).Rain); // never zero
    }

    [Fact]
    public void A_day_without_rain_at_a_members_end_is_not_used()
    {
        var feed = Feed(3, 10);
        feed[0][9] = feed[0][9] with { Rain = null };
        var futures = WeatherFutures.Make(Outlook.OfEnsemble(feed))!;

        Assert.Equal([9, 10], futures.Note(FutureNoteCode.MembersUnequal)!.Numbers);
        Assert.Null(futures.Note(FutureNoteCode.MembersLeftOut));
    }

    [Fact]
    public void A_single_usable_member_is_dressed_not_believed()
    {
        var feed = Feed(2, 12);
        feed[1].RemoveRange(3, 5);
        var futures = WeatherFutures.Make(Outlook.OfEnsemble(feed))!;

        Assert.Equal(FutureSource.Dressed, futures.Source);
        Assert.Equal([1, 2], futures.Note(FutureNoteCode.TooFewMembers)!.Numbers);
        Assert.Equal(64, Enumerable.Range(0, 64).Select(member => futures.Of(member, 2).Tmax).Distinct().Count());
        Assert.Equal((feed[0][0].Tmax!.Value + feed[1][0].Tmax!.Value) / 2, Enumerable.Range(0, 64).Average(member => futures.Of(member, 0).Tmax), 1.0);
    }

    [Fact]
    public void An_ensemble_of_nothing_gives_way_to_the_forecast()
    {
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(5, 18, 8)) with { Ensemble = [[], []] })!;

        Assert.Equal(FutureSource.Dressed, futures.Source);
        Assert.Equal(Outlook.Today.PlusDays(4), futures.LastForecastDay);
    }

    [Fact]
    public void Missing_days_of_a_forecast_are_filled_and_told()
    {
        var forecast = Outlook.Steady(10, 18, 8);
        forecast.RemoveRange(4, 2);
        var futures = WeatherFutures.Make(Outlook.Of(forecast, SiteHistory.None))!;

        Assert.Equal([2], futures.Note(FutureNoteCode.ForecastDaysMissing)!.Numbers);
        Assert.Equal(10, futures.Forcing.Days);
    }

    [Fact]
    public void A_forecast_ends_at_the_first_hole_that_nothing_can_fill()
    {
        var forecast = Outlook.Steady(12, 18, 8);
        forecast.RemoveRange(4, 4);
        var futures = WeatherFutures.Make(Outlook.Of(forecast, SiteHistory.None))!;

        Assert.Equal(Outlook.Today.PlusDays(4), futures.Note(FutureNoteCode.ForecastCutShort)!.Day);
        Assert.Equal(4, futures.Forcing.Days);
    }

    [Fact]
    public void A_long_hole_filled_from_the_calendar_is_as_uncertain_as_the_calendar()
    {
        var forecast = Outlook.Steady(12, 18, 8);
        forecast.RemoveRange(1, 6);
        var futures = WeatherFutures.Make(Outlook.Of(forecast) with { Members = 2000 })!;
        var x = Enumerable.Range(0, 2000).Select(member => futures.Of(member, 4).Tmax - Outlook.NewYork.UsualTmax(Outlook.Today.PlusDays(4))!.Value).ToList();

        // At lead 4 a forecast would stray by 2.6 °C, New York's Aprils by 4.3 or more.
        Assert.Equal(Outlook.NewYork.AnomalySdTmax(4)!.Value, Math.Sqrt(x.Average(v => v * v)), 0.35);
        Assert.True(Outlook.NewYork.AnomalySdTmax(4) > 3.5);
    }

    [Fact]
    public void Yesterday_helps_to_fill_a_forecast_that_starts_tomorrow()
    {
        var forecast = Outlook.Steady(8, 18, 8, from: Outlook.Today.PlusDays(-1));
        forecast.RemoveAt(1);

        Assert.Equal(7, WeatherFutures.Make(Outlook.Of(forecast, SiteHistory.None))!.Forcing.Days);
        Assert.Null(WeatherFutures.Make(Outlook.Of(forecast[1..], SiteHistory.None)));
    }

    [Fact]
    public void A_forecast_without_rain_leaves_it_to_the_season()
    {
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(6, 18, 8, rain: null)) with { Members = 2000 })!;

        Assert.Null(futures.Note(FutureNoteCode.ForecastDaysMissing));
        Assert.Equal(
            Outlook.NewYork.WetShare(4)!.Value, Enumerable.Range(0, 2000).Count(member => futures.Of(member, 1).Rain >= 1) / 2000.0, 0.04);
    }

    [Fact]
    public void A_year_with_holes_is_named_and_not_used()
    {
        var history = new SiteHistory(Cities.NewYork.Where(day => day.Date.Year != 2013 || day.Date.Month != 5));
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8), history))!;

        Assert.Equal([2013], futures.Note(FutureNoteCode.HistoryHoles)!.Numbers);
        Assert.Equal([2012, 2014, 2015], futures.Years);
    }

    [Theory]
    [InlineData(2015, 1)]
    [InlineData(2016, 0)]
    public void With_fewer_than_two_years_the_outlook_ends_with_the_forecast(int from, int years)
    {
        var history = new SiteHistory(Cities.NewYork.Where(day => day.Date.Year >= from));
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8), history))!;

        Assert.True(futures.IsShort);
        Assert.Equal([years], futures.Note(FutureNoteCode.HistoryTooShort)!.Numbers);
        Assert.Equal(futures.LastForecastDay, futures.LastDay);
        Assert.Empty(futures.Years);
    }

    [Fact]
    public void With_neither_forecast_nor_two_years_there_is_nothing_to_say()
    {
        Assert.Null(WeatherFutures.Make(Outlook.Of([], SiteHistory.None)));
        Assert.Null(WeatherFutures.Make(Outlook.Of([], new SiteHistory(Cities.NewYork.Where(day => day.Date.Year == 2015)))));
        Assert.NotNull(WeatherFutures.Make(Outlook.Of([], new SiteHistory(Cities.NewYork.Where(day => day.Date.Year >= 2014)))));
    }

    [Fact]
    public void A_day_given_twice_is_refused_by_its_date()
    {
        List<WeatherDay> forecast = [.. Outlook.Steady(3, 18, 8), .. Outlook.Steady(1, 19, 8)];

        Assert.Contains("2016-04-10", Assert.Throws<ArgumentException>(() => WeatherFutures.Make(Outlook.Of(forecast))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Whatever_is_missing_every_day_of_every_member_is_complete_and_in_order() =>
        Gen.Select(Series.Array[0, 5], Series, Gen.Int[0, 60], Gen.Int[0, 5], Gen.Int[1, 40]).Sample((ensemble, forecast, holes, years, days) =>
        {
            var draws = new Draws((ulong)holes);
            var kept = Cities.NewYork.Where(day => day.Date.Year < 2012 + years && draws.Below(100) >= holes / 4);
            var inputs = Outlook.Of(forecast, new SiteHistory(kept)) with { Ensemble = ensemble, Days = days, Members = 6 };
            if (WeatherFutures.Make(inputs) is not { } futures)
                return;
            Assert.InRange(futures.Forcing.Days, 1, days);
            Assert.Equal(futures.IsShort, futures.Forcing.Days < days);
            Assert.All(futures.All(), day => Assert.True(
                double.IsFinite(day.Tmax) && double.IsFinite(day.Tmin) && day.Tmax >= day.Tmin && day.Rain >= 0));
            Assert.All(futures.Forcing.Et0, et0 => Assert.True(double.IsFinite(et0) && et0 >= 0));
        }, iter: 300);

    /// <summary>A series of up to 20 days, with any of its days or values missing.</summary>
    private static Gen<List<WeatherDay>> Series => Gen.Select(Gen.Int[0, 20], Gen.Int[0, 3], Gen.ULong).Select((length, poor, seed) =>
    {
        var draws = new Draws(seed);
        double? Perhaps(double value) => draws.Below(20) < poor ? null : value;
        return Outlook.Steady(length, 0, 0).Where(_ => draws.Below(20) >= poor).Select(day =>
        {
            var tmin = 30 * draws.Uniform() - 10;
            return new WeatherDay(day.Date, Perhaps(tmin + 15 * draws.Uniform()), Perhaps(tmin), Perhaps(20 * draws.Uniform()));
        }).ToList();
    });

    /// <summary>Members each a degree warmer than the one before.</summary>
    private static List<List<WeatherDay>> Feed(int members, int days) =>
        [.. Enumerable.Range(0, members).Select(member => Outlook.Steady(days, 15 + member, 5))];
}
