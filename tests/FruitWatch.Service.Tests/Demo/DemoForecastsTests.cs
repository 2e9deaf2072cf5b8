using FruitWatch.Service.Demo.Weather;
using NodaTime;

namespace FruitWatch.Service.Tests.Demo;

public sealed class DemoForecastsTests
{
    private static readonly LocalDate s_first = new(2021, 1, 1);

    public static TheoryData<int> Weathers => [0, 1, 2];

    [Fact]
    public void A_forecast_is_the_same_whenever_it_is_asked_for()
    {
        var issued = new LocalDate(2026, 10, 13);
        var one = Forecasts(1).Issue(DemoPlace.Coast, issued);
        var other = Forecasts(1);
        other.Issue(DemoPlace.Coast, issued.PlusDays(-1));
        Assert.Equal(one, other.Issue(DemoPlace.Coast, issued));
        Assert.NotEqual(one, Forecasts(2).Issue(DemoPlace.Coast, issued));
        Assert.Equal([.. Enumerable.Range(0, 9).Select(issued.PlusDays)], one.Select(day => day.Date));
    }

    // 0 is Seattle's weather, others are seeds.
    [Theory]
    [MemberData(nameof(Weathers))]
    public void Temperature_is_good_tomorrow_and_poor_in_eight_days(int which)
    {
        var rms = Enumerable.Range(0, 9).Select(lead => Math.Sqrt(Pairs(which, lead).Average(p => Square(p.Forecast.Tmax!.Value - p.Truth.Tmax!.Value)))).ToArray();
        for (var lead = 1; lead < rms.Length; lead++)
            Assert.True(rms[lead] > rms[lead - 1], string.Join(" ", rms));
        // The service's own starting values are 1.5 °C for the first day and 4.5 °C for one without skill.
        Assert.InRange(rms[1], 1, 2);
        Assert.InRange(rms[8], 2.8, 4.5);
    }

    [Theory]
    [MemberData(nameof(Weathers))]
    public void Rain_is_missed_and_falsely_announced_more_often_far_ahead(int which)
    {
        var wrong = Enumerable.Range(0, 9).Select(lead => Pairs(which, lead).Average(p => p.Forecast.Rain > 0 == p.Truth.Rain > 0 ? 0.0 : 1)).ToArray();
        Assert.True(wrong[0] < 0.05, string.Join(" ", wrong));
        Assert.True(wrong[1] < wrong[4] && wrong[4] < wrong[8], string.Join(" ", wrong));
        Assert.InRange(wrong[8], 0.2, 0.5);
        var far = Pairs(which, 8);
        Assert.Contains(far, p => p.Truth.Rain > 5 && p.Forecast.Rain == 0);
        Assert.Contains(far, p => p.Truth.Rain == 0 && p.Forecast.Rain > 5);
        Assert.InRange(far.Count(p => p.Forecast.Rain > 0) / (double)far.Count(p => p.Truth.Rain > 0), 0.85, 1.15);
    }

    [Theory]
    [MemberData(nameof(Weathers))]
    public void Every_forecast_is_possible(int which)
    {
        var forecasts = Forecasts(which);
        foreach (var place in DemoPlace.All)
        {
            for (var i = 0; i < 300; i++)
            {
                Assert.All(
                    forecasts.Issue(place, First(which).PlusDays(i)),
                    day => Assert.True(day.Tmin <= day.Tmax && day.Rain >= 0 && day.Humidity is null or (>= 20 and <= 100), day.ToString()));
            }
        }
    }

    [Fact]
    public void A_later_forecast_revises_the_earlier_one()
    {
        var weather = Weather(1);
        var forecasts = new DemoForecasts(weather, 1);
        double revision = 0, error = 0;
        for (var i = 0; i < 400; i++)
        {
            var issued = s_first.PlusDays(i);
            var before = forecasts.Issue(DemoPlace.Valley, issued)[6];
            var after = forecasts.Issue(DemoPlace.Valley, issued.PlusDays(1))[5];
            Assert.Equal(before.Date, after.Date);
            revision += Square(after.Tmax!.Value - before.Tmax!.Value);
            error += Square(before.Tmax!.Value - weather.On(DemoPlace.Valley, before.Date).Tmax!.Value);
        }

        Assert.True(revision < error / 2, $"{revision} {error}");
    }

    private static DemoForecasts Forecasts(int which) => new(Weather(which), which);

    private static DemoWeather Weather(int which) => which == 0 ? DemoWeather.Seattle() : DemoWeather.Invented(which);

    private static LocalDate First(int which) => which == 0 ? new LocalDate(2012, 2, 1) : s_first;

    private static List<(Model.Weather.WeatherDay Forecast, Model.Weather.WeatherDay Truth)> Pairs(int which, int lead)
    {
        var weather = Weather(which);
        var forecasts = new DemoForecasts(weather, which);
        return
        [
            .. Enumerable.Range(0, 1000).Select(i => First(which).PlusDays(i))
                .Select(issued => (forecasts.Issue(DemoPlace.Valley, issued)[lead], weather.On(DemoPlace.Valley, issued.PlusDays(lead)))),
        ];
    }

    private static double Square(double value) => value * value;
}
