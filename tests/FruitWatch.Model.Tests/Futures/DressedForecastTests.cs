using FruitWatch.Model.Futures;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Futures;

/// <summary>Many members of one forecast, held to what is published of the errors of forecasts.</summary>
public class DressedForecastTests
{
    private const int Days = 16;
    private const int Many = 40_000;

    /// <summary>Maxima and minima so far apart that no error makes them meet: none needs swapping.</summary>
    private static readonly IReadOnlyList<IReadOnlyList<WeatherDay>> s_members = Members(Outlook.Steady(Days, 40, -20), SiteHistory.None, Many);

    [Fact]
    public void With_no_history_members_lie_about_the_forecast_as_far_as_the_lead_says()
    {
        var error = new ForecastError(Outlook.Errors);
        for (var lead = 0; lead < Days; lead++)
        {
            // Standard errors: of the mean sd/√n; of the sd with 8 degrees (kurtosis 4.5) sd·√(3.5/4n). Four of each.
            Assert.Equal(40, Tmax(lead).Average(), 4 * error.SdTmax(lead) / Math.Sqrt(Many));
            Assert.Equal(-20, Tmin(lead).Average(), 4 * error.SdTmin(lead) / Math.Sqrt(Many));
            Assert.Equal(error.SdTmax(lead), Sd(Tmax(lead)), 4 * error.SdTmax(lead) * Math.Sqrt(3.5 / (4 * Many)));
            Assert.Equal(error.SdTmin(lead), Sd(Tmin(lead)), 4 * error.SdTmin(lead) * Math.Sqrt(3.5 / (4 * Many)));
        }
    }

    [Theory]
    [InlineData(1, "1")]
    [InlineData(2, "2")]
    public void Errors_above_five_degrees_are_as_frequent_as_published(int lead, string published)
    {
        // 0.71 % and 1.42 % of days (forecast-uncertainty.csv, NWS). A normal curve would give 0.18 % and 0.74 %.
        var share = ForecastErrorTests.Published("tmax", published, "abs_error_above_5C") / 100;

        // Three standard errors of a share of n, and half a unit of the last digit that the sd of the model is fitted to.
        var tolerance = 3 * Math.Sqrt(share / Many) + 0.0005;
        Assert.Equal(share, Tmax(lead).Count(t => Math.Abs(t - 40) > 5) / (double)Many, tolerance);
    }

    [Fact]
    public void Errors_hang_together_from_day_to_day_as_stated()
    {
        for (var lead = 1; lead < Days; lead++)
        {
            Assert.Equal(ForecastError.FromDayToDay(lead), Correlation(Tmax(lead - 1), Tmax(lead)), 0.02);
            Assert.Equal(ForecastError.FromDayToDay(lead), Correlation(Tmin(lead - 1), Tmin(lead)), 0.02);
        }
    }

    [Fact]
    public void The_error_of_the_maximum_hangs_together_with_that_of_the_minimum_as_stated()
    {
        for (var lead = 0; lead < Days; lead++)
            Assert.Equal(ForecastError.MaxWithMin(lead), Correlation(Tmax(lead), Tmin(lead)), 0.02);
    }

    [Fact]
    public void Tails_loosen_correlations_by_a_known_factor()
    {
        Assert.Equal(75 * Math.PI / 256, DressedForecast.Loosening(8), 1e-12); // E[√(6/χ²₈)]² = 3·(Γ(3.5)/Γ(4))² = 3·(15√π/48)²
        Assert.Equal(2 / Math.PI, DressedForecast.Loosening(3), 1e-12); // ½·(Γ(1)/Γ(1.5))²
        Assert.InRange(DressedForecast.Loosening(100), 0.99, 1);
    }

    [Theory]
    [InlineData(5.0, true)]
    [InlineData(0.0, false)]
    [InlineData(null, null)]
    public void Wet_days_are_as_frequent_as_the_forecast_and_the_lead_say(double? forecast, bool? wet)
    {
        var error = new ForecastError(Outlook.Errors);
        var members = Members(Outlook.Steady(Days, 20, 10, forecast), SiteHistory.None, Many);

        for (var lead = 0; lead < Days; lead++)
            Assert.Equal(
                error.WetChance(wet, lead, ForecastError.UsualWetShare),
                members.Count(m => m[lead].Rain >= ForecastError.WetFrom) / (double)Many, 4 * Math.Sqrt(0.25 / Many));
    }

    [Fact]
    public void With_a_history_wet_days_fade_to_the_months_own_share()
    {
        var members = Members(Outlook.Steady(40, 20, 10, 0), Outlook.NewYork, Many / 4);

        // 19 May 2016: New York's Mays.
        Assert.Equal(Outlook.NewYork.WetShare(5)!.Value, members.Count(m => m[39].Rain >= 1) / (Many / 4.0), 0.02);
    }

    [Fact]
    public void Wet_days_cluster_as_loosely_as_in_New_York_and_as_closely_as_in_Seattle()
    {
        var members = Members(Outlook.Steady(2, 20, 10, null), SiteHistory.None, Many);
        var first = members.Select(m => m[0].Rain >= 1 ? 1.0 : 0).ToList();
        var second = members.Select(m => m[1].Rain >= 1 ? 1.0 : 0).ToList();

        // Chance of wet after wet less that of wet after dry, NOAA 2012–2015 (forecast-uncertainty.csv).
        var cities = CheckFile.Read("Futures/forecast-uncertainty.csv").ToLookup(row => row["error_metric"], row => row["value"]);
        var lag = cities["P_wet_after_wet"].Zip(cities["P_wet_after_dry"], (wet, dry) => Number(wet) - Number(dry)).Order().ToList();
        Assert.Equal(2, lag.Count);
        Assert.InRange(Correlation(first, second), lag[0], lag[1]);
    }

    [Fact]
    public void A_day_that_turns_out_dry_has_no_rain_or_the_little_that_was_forecast()
    {
        var wetForecast = Members(Outlook.Steady(1, 20, 10, 7), SiteHistory.None, 500).Select(m => m[0].Rain!.Value).ToList();
        var drizzle = Members(Outlook.Steady(1, 20, 10, 0.6), SiteHistory.None, 500).Select(m => m[0].Rain!.Value).ToList();

        Assert.Equal([0, 7], wetForecast.Distinct().Order());
        Assert.Contains(0.6, drizzle);
        Assert.DoesNotContain(drizzle, rain => rain is < 1 and not 0.6);
    }

    [Fact]
    public void The_forecasts_own_amount_gives_way_to_the_seasons_wet_days()
    {
        var members = Members(Outlook.Steady(Days, 20, 10, 77.7), Outlook.NewYork, Many / 4);
        var error = new ForecastError(Outlook.Errors);
        for (var lead = 0; lead < Days; lead += 5)
        {
            var wet = members.Select(m => m[lead].Rain!.Value).Where(rain => rain > 0).ToList();
            Assert.Equal(error.Skill(lead), wet.Count(rain => rain == 77.7) / (double)wet.Count, 0.04);
            Assert.All(wet.Where(rain => rain != 77.7), rain => Assert.Contains(rain, Outlook.NewYork.WetDayAmounts(4)));
        }
    }

    [Fact]
    public void With_no_history_a_wet_day_has_ten_millimetres_on_average()
    {
        // Between Seattle's 8.64 and New York's 11.39 mm (forecast-uncertainty.csv, mean_wet_day).
        var wet = Members(Outlook.Steady(1, 20, 10, null), SiteHistory.None, Many)
            .Select(m => m[0].Rain!.Value).Where(rain => rain > 0).ToList();

        Assert.Equal(10, wet.Average(), 4 * 9 / Math.Sqrt(wet.Count));
        Assert.All(wet, rain => Assert.True(rain >= 1));
    }

    [Fact]
    public void A_forecast_far_from_the_usual_day_is_pulled_in_with_lead()
    {
        var members = Members(Outlook.Steady(Days, 40, 30), Outlook.NewYork, Many / 4);
        var error = new ForecastError(Outlook.Errors);
        for (var lead = 0; lead < Days; lead += 3)
        {
            var date = Outlook.Today.PlusDays(lead);
            var usual = (Outlook.NewYork.UsualTmax(date)!.Value + Outlook.NewYork.UsualTmin(date)!.Value) / 2;
            Assert.Equal(usual + error.Pull(lead) * (35 - usual), members.Average(m => m[lead].Tmean!.Value), 0.2);
        }
    }

    [Fact]
    public void The_maximum_is_never_below_the_minimum()
    {
        var members = Members(Outlook.Steady(Days, 10, 9.5), SiteHistory.None, 200);

        Assert.All(members.SelectMany(m => m), day => Assert.True(day.Tmax >= day.Tmin));
    }

    [Fact]
    public void What_else_was_forecast_is_passed_on_as_given()
    {
        var forecast = Outlook.Steady(1, 20, 10)[0] with { Humidity = 71, DewPoint = 9, Wind = 3, Radiation = 12 };
        var day = Members([forecast], SiteHistory.None, 1)[0][0];

        Assert.Equal((71, 9, 3, 12), (day.Humidity, day.DewPoint, day.Wind, day.Radiation));
        Assert.Equal(Provenance.Forecast, day.TmaxFrom);
    }

    [Fact]
    public void A_reading_of_the_growers_gauge_is_the_same_in_every_member()
    {
        var forecast = Outlook.Steady(3, 20, 10, rain: 12);
        forecast[0] = forecast[0] with { Rain = 4.5, RainFrom = Provenance.Gauge };
        var members = Members(forecast, Outlook.NewYork, 64);

        Assert.All(members, m => Assert.Equal(4.5, m[0].Rain));
        Assert.Contains(members, m => m[1].Rain == 0);
    }

    [Fact]
    public void A_forecast_of_some_days_ago_has_the_errors_of_a_longer_lead()
    {
        // forecast-uncertainty.csv, recommended_error_sd of the maximum: 1.50 °C at lead 0, 2.95 °C at lead 5.
        var spread = Enumerable.Range(0, 2).Select(i => Sd([.. Members(Outlook.Steady(1, 20, 10), SiteHistory.None, 4000, age: 5 * i).Select(m => m[0].Tmax!.Value)])).ToArray();

        Assert.InRange(spread[0], 1.40, 1.60);
        Assert.InRange(spread[1], 2.80, 3.10);
    }

    private static List<IReadOnlyList<WeatherDay>> Members(List<WeatherDay> forecast, SiteHistory history, int count, int age = 0)
    {
        var series = ForecastSeries.Read(forecast, Outlook.Today, forecast.Count, history.Climatology);
        var dressed = new DressedForecast(series, history, Outlook.Errors, age);
        var draws = new Draws(11);
        return [.. Enumerable.Range(0, count).Select(i => dressed.Member(draws.Stream(1, i), draws.Stream(2, i)))];
    }

    private static List<double> Tmax(int lead) => [.. s_members.Select(m => m[lead].Tmax!.Value)];

    private static List<double> Tmin(int lead) => [.. s_members.Select(m => m[lead].Tmin!.Value)];

    private static double Sd(List<double> x)
    {
        var mean = x.Average();
        return Math.Sqrt(x.Average(v => (v - mean) * (v - mean)));
    }

    private static double Correlation(List<double> x, List<double> y)
    {
        var (mx, my) = (x.Average(), y.Average());
        return x.Zip(y).Average(pair => (pair.First - mx) * (pair.Second - my)) / (Sd(x) * Sd(y));
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
