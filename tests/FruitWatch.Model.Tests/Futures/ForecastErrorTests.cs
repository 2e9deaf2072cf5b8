using System.Globalization;
using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Tests.Futures;

public class ForecastErrorTests
{
    private const string Table = "Futures/forecast-uncertainty.csv";

    private static readonly ForecastError s_error = new(Outlook.Errors);

    public static TheoryData<string, double, double, double, double, double> ErrorRows()
    {
        var rows = new TheoryData<string, double, double, double, double, double>();
        foreach (var row in CheckFile.Read("Futures/error-sd.csv"))
            rows.Add(
                row["id"], Number(row["sd_short"]), Number(row["sd_climate"]), Number(row["lead"]), Number(row["expected"]),
                Number(row["tolerance"]));
        return rows;
    }

    public static TheoryData<string, double, string, double> TableRows()
    {
        var rows = new TheoryData<string, double, string, double>();
        foreach (var row in CheckFile.Read(Table).Where(row => row["error_metric"].StartsWith("recommended_", StringComparison.Ordinal)))
            rows.Add(row["variable"], Number(row["lead_day"]), row["error_metric"], Number(row["value"]));
        return rows;
    }

    [Theory]
    [MemberData(nameof(ErrorRows))]
    public void The_error_grows_as_worked_out_in_forty_digits(
        string id, double today, double climate, double lead, double expected, double tolerance)
    {
        var error = new ForecastError(Outlook.Errors with { S0Tmax = today, S0Tmin = today }, climate, climate);

        Assert.Equal(expected, error.SdTmax(lead), tolerance);
        Assert.Equal(expected, error.SdTmin(lead), tolerance);
        Assert.NotEmpty(id);
    }

    [Theory]
    [MemberData(nameof(TableRows))]
    public void The_table_of_errors_by_lead_comes_out(string variable, double lead, string metric, double expected)
    {
        var value = metric switch
        {
            "recommended_error_growth" => 1 - s_error.Skill(lead),
            "recommended_error_sd" => variable == "tmax" ? s_error.SdTmax(lead) : s_error.SdTmin(lead),
            "recommended_P_wet_given_forecast_wet" => s_error.WetChance(true, lead, ForecastError.UsualWetShare),
            _ => s_error.WetChance(false, lead, ForecastError.UsualWetShare),
        };

        // Half a unit of the last printed digit: three for the growth, two for the others.
        Assert.Equal(expected, value, metric == "recommended_error_growth" ? 0.0005 + 1e-12 : 0.005 + 1e-12);
    }

    [Fact]
    public void The_table_has_all_its_rows() => Assert.Equal(13 * 3 + 10 * 2, TableRows().Count);

    [Fact]
    public void The_sites_own_spread_takes_the_place_of_the_default_but_never_undercuts_todays_error()
    {
        Assert.Equal(3.8, new ForecastError(Outlook.Errors, 3.8, 2.8).SdTmax(100), 1e-9);
        Assert.Equal(2.8, new ForecastError(Outlook.Errors, 3.8, 2.8).SdTmin(100), 1e-9);
        Assert.Equal(1.5, new ForecastError(Outlook.Errors, 1.0, 1.0).SdTmax(100), 1e-9);
        Assert.Equal(1.6, new ForecastError(Outlook.Errors, 1.0, 1.0).SdTmin(5), 1e-9);
    }

    [Theory]
    [InlineData(0, 1)] // e^(−(L/7.5)²/2) to two decimals
    [InlineData(1, 0.99)]
    [InlineData(3, 0.92)]
    [InlineData(5, 0.80)]
    [InlineData(7, 0.65)]
    [InlineData(10, 0.41)]
    public void Less_of_the_forecasts_departure_is_kept_the_further_ahead(double lead, double kept) =>
        Assert.Equal(kept, s_error.Pull(lead), 0.005);

    [Fact]
    public void Half_the_variance_is_explained_about_day_six() =>
        Assert.InRange(s_error.Skill(6), 0.45, 0.55); // about 50 % at days 5–7, Stern & Davidson 2015, QJRMS 141:2726

    [Fact]
    public void Errors_hang_together_as_found_at_short_lead_and_as_departures_do_at_day_ten()
    {
        // Found at days 1 and 2: 0.279 from day to day, 0.148 for maximum with minimum (forecast-uncertainty.csv, NWS).
        Assert.Equal(Published("tmax", "1-2", "error_correlation_same_issue"), ForecastError.FromDayToDay(1), 0.05);
        Assert.Equal(Published("tmax-tmin", "1", "error_correlation_same_issue"), ForecastError.MaxWithMin(1), 0.005);
        Assert.Equal(0.5, ForecastError.FromDayToDay(5.5), 1e-12);
        Assert.Equal(0.325, ForecastError.MaxWithMin(5.5), 1e-12);
        Assert.Equal(0.7, ForecastError.FromDayToDay(10), 1e-12);
        Assert.Equal(0.7, ForecastError.FromDayToDay(16), 1e-12);
        Assert.Equal(0.5, ForecastError.MaxWithMin(10), 1e-12);
    }

    [Fact]
    public void The_chance_of_a_wet_day_fades_to_the_sites_share_and_is_that_where_nothing_was_forecast()
    {
        // 0.54 and 0.066 at day 1: one year of NWS bulletins (forecast-uncertainty.csv).
        Assert.Equal(0.54, s_error.WetChance(true, 1, 0.4), 1e-12);
        Assert.Equal(0.066, s_error.WetChance(false, 1, 0.4), 1e-12);
        Assert.Equal(0.54, s_error.WetChance(true, 0, 0.4), 1e-12);
        Assert.Equal(0.4, s_error.WetChance(true, 40, 0.4), 1e-9);
        Assert.Equal(0.4, s_error.WetChance(false, 40, 0.4), 1e-9);
        Assert.Equal(0.4, s_error.WetChance(null, 1, 0.4), 1e-12);
    }

    internal static double Published(string variable, string lead, string metric) =>
        Number(CheckFile.Read(Table).Single(row =>
            row["variable"] == variable && row["lead_day"] == lead && row["error_metric"] == metric)["value"]);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
