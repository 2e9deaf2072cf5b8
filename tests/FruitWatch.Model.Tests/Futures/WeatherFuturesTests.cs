using FruitWatch.Model.Futures;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Futures;

public class WeatherFuturesTests
{
    private static readonly int[] s_shifts = [-7, -4, 0, 4, 7];

    [Fact]
    public void A_single_forecast_is_dressed_and_followed_by_past_years()
    {
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8)))!;

        Assert.Equal(FutureSource.Dressed, futures.Source);
        Assert.Equal(64, futures.Members);
        Assert.Equal(Outlook.Today, futures.Forcing.First);
        Assert.Equal(Outlook.Today.PlusDays(9), futures.LastForecastDay);
        Assert.Equal(Outlook.Today.PlusDays(119), futures.LastDay);
        Assert.Equal([2012, 2013, 2014, 2015], futures.Years);
        Assert.False(futures.IsShort);
        Assert.Equal([4], futures.Note(FutureNoteCode.FewYears)!.Numbers);
    }

    [Fact]
    public void The_same_inputs_give_the_same_members_to_the_last_bit() =>
        Assert.Equal(WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8)))!.All(), WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8)))!.All());

    [Fact]
    public void Another_site_has_other_members_and_so_has_another_day()
    {
        var one = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8)))!;
        var site = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8), site: "mill-brook"))!;
        var day = WeatherFutures.Make(Outlook.Of(Outlook.Steady(11, 18, 8)) with { Today = Outlook.Today.PlusDays(1) })!;

        Assert.NotEqual(one.Of(0, 1).Tmax, site.Of(0, 1).Tmax);
        Assert.NotEqual(one.Of(0, 1).Tmax, day.Of(0, 0).Tmax);
        Assert.NotEqual(one.Of(0, 1).Tmax, day.Of(0, 1).Tmax);
    }

    [Fact]
    public void Another_site_is_dealt_the_years_in_another_order()
    {
        List<FutureDay> Traces(string site) => WeatherFutures.Make(Outlook.Of([], site: site))!.All();

        Assert.Equal(Traces("alder-lane"), Traces("alder-lane"));
        Assert.NotEqual(Traces("alder-lane"), Traces("mill-brook"));
    }

    [Fact]
    public void The_number_of_members_does_not_change_the_first_of_them_within_the_forecast()
    {
        var few = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8)) with { Members = 5 })!;
        var many = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8)))!;

        Assert.Equal(many.Days(4).Take(10), few.Days(4).Take(10));
    }

    [Fact]
    public void With_no_forecast_past_years_speak_alone()
    {
        var futures = WeatherFutures.Make(Outlook.Of([]))!;

        Assert.Equal(FutureSource.PastYears, futures.Source);
        Assert.Equal(Outlook.Today.PlusDays(-1), futures.LastForecastDay);
        Assert.NotNull(futures.Note(FutureNoteCode.NoForecast));
        Assert.Equal(120, futures.Forcing.Days);
        var traces = s_shifts.SelectMany(shift => futures.Years.Select(year =>
            Cities.NewYork.SkipWhile(day => day.Date != new LocalDate(year, 4, 10).PlusDays(shift)).Take(120)
                .Select(day => (day.Tmax!.Value, day.Tmin!.Value, day.Rain!.Value)).ToList())).ToList();
        Assert.All(Enumerable.Range(0, 64), member => Assert.Contains(
            traces, trace => trace.SequenceEqual(futures.Days(member).Select(day => (day.Tmax, day.Tmin, day.Rain)))));
    }

    [Fact]
    public void Every_past_year_is_in_as_many_members_as_every_other()
    {
        var years = MadeUp(2001, 15, year => year - 2000);
        var futures = WeatherFutures.Make(Outlook.Of([], new SiteHistory(years)))!;
        var counts = Enumerable.Range(0, 64).GroupBy(member => futures.Of(member, 5).Tmax).Select(g => g.Count()).ToList();

        Assert.Equal(15, counts.Count);
        Assert.All(counts, count => Assert.InRange(count, 4, 5));
        Assert.Null(futures.Note(FutureNoteCode.FewYears));
    }

    [Fact]
    public void Few_years_are_used_with_shifts_many_without()
    {
        // Every calendar day of the made-up years has its own temperature: the shift can be read off.
        static List<WeatherDay> Counted(int years) =>
            MadeUp(2015 - years + 1, years, _ => 0, date => date.Month + date.Day / 100.0);

        var few = WeatherFutures.Make(Outlook.Of([], new SiteHistory(Counted(12))))!;
        var enough = WeatherFutures.Make(Outlook.Of([], new SiteHistory(Counted(13))))!;

        Assert.Equal(5, Shifts(few));
        Assert.Equal(1, Shifts(enough));

        static int Shifts(WeatherFutures futures) =>
            Enumerable.Range(0, 64).Select(member => futures.Of(member, 0).Tmax).Distinct().Count();
    }

    [Fact]
    public void The_last_departure_fades_from_the_first_day_after_the_forecast_on()
    {
        var plain = Outlook.Steady(10, 18, 8);
        var warm = Outlook.Steady(10, 18, 8);
        warm[9] = warm[9] with { Tmax = 28, Tmin = 13 };

        var one = WeatherFutures.Make(Outlook.OfEnsemble([plain, plain, plain]))!;
        var other = WeatherFutures.Make(Outlook.OfEnsemble([warm, warm, warm]))!;

        for (var after = 1; after <= 5; after++)
            for (var member = 0; member < one.Members; member++)
            {
                // Half the sum: should an extreme pass the other, they change places and the mean stays.
                var more = Mean(other.Of(member, 9 + after)) - Mean(one.Of(member, 9 + after));
                Assert.Equal(7.5 * Math.Pow(0.7, after), more, 1e-9);
            }
    }

    [Fact]
    public void Weather_does_not_jump_where_the_forecast_ends()
    {
        // Ten degrees above the usual day to the last: without the fading the mean would fall by all of it overnight.
        var history = Outlook.NewYork;
        var warm = Enumerable.Range(0, 8).Select(i => Outlook.Today.PlusDays(i)).Select(date =>
            new WeatherDay(date, history.UsualTmax(date) + 10, history.UsualTmin(date) + 10, 0).From(Provenance.Forecast)).ToList();
        var futures = WeatherFutures.Make(Outlook.OfEnsemble([warm, warm]))!;

        double MeanOn(int day) => Enumerable.Range(0, futures.Members).Average(member => Mean(futures.Of(member, day)));
        var usual = (history.UsualTmax(Outlook.Today.PlusDays(8)) + history.UsualTmin(Outlook.Today.PlusDays(8)))!.Value / 2;

        // Seven tenths of ten degrees, and what the four years had around that day, whose mean is within 2 °C of the usual.
        Assert.Equal(usual + 7, MeanOn(8), 2.0);
        Assert.InRange(MeanOn(7) - MeanOn(8), -1, 5);
    }

    [Fact]
    public void Humidity_of_the_past_goes_along()
    {
        var history = new SiteHistory(Cities.NewYork.Select(day => day with { Humidity = 66 }));
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(3, 18, 8), history))!;

        Assert.Equal(66, futures.Forcing.Humidity[50 * futures.Forcing.Stride], 1e-9);
        Assert.NotEqual(66, futures.Forcing.Humidity[0], 1e-3);
    }

    [Fact]
    public void A_target_year_left_out_of_the_history_changes_nothing()
    {
        var target = new DateInterval(new LocalDate(2014, 1, 1), new LocalDate(2014, 12, 31));
        var changed = Cities.NewYork.Select(day => target.Contains(day.Date) ? day with { Tmax = 50, Tmin = 45, Rain = 99 } : day).ToList();
        WeatherFutures Make(SiteHistory history) =>
            WeatherFutures.Make(Outlook.Of(Outlook.Steady(7, 18, 8, from: new LocalDate(2014, 4, 10)), history) with { Today = new LocalDate(2014, 4, 10) })!;

        Assert.Equal(Make(new SiteHistory(Cities.NewYork, target)).All(), Make(new SiteHistory(changed, target)).All());
        Assert.NotEqual(Make(new SiteHistory(Cities.NewYork)).All(), Make(new SiteHistory(changed)).All());
        Assert.Equal([2012, 2013, 2015], Make(new SiteHistory(Cities.NewYork, target)).Years);
    }

    [Fact]
    public void A_forecast_as_long_as_the_outlook_needs_no_history()
    {
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(16, 18, 8), SiteHistory.None) with { Days = 10 })!;

        Assert.False(futures.IsShort);
        Assert.Empty(futures.Notes);
        Assert.Equal(10, futures.Forcing.Days);
        Assert.Equal(futures.LastDay, futures.LastForecastDay);
    }

    [Fact]
    public void Asking_beyond_the_members_or_the_days_is_refused()
    {
        var futures = WeatherFutures.Make(Outlook.Of(Outlook.Steady(10, 18, 8)))!;

        Assert.Throws<ArgumentOutOfRangeException>(() => futures.Of(64, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => futures.Of(0, 120));
    }

    private static double Mean(FutureDay day) => (day.Tmax + day.Tmin) / 2;

    private static List<WeatherDay> MadeUp(int first, int years, Func<int, double> ofYear, Func<LocalDate, double>? ofDay = null)
    {
        var start = new LocalDate(first, 1, 1);
        return
        [
            .. Enumerable.Range(0, Period.DaysBetween(start, start.PlusYears(years))).Select(i => start.PlusDays(i)).Select(date =>
                new WeatherDay(date, 20 + ofYear(date.Year) + (ofDay?.Invoke(date) ?? 0), 0, 0)),
        ];
    }
}
