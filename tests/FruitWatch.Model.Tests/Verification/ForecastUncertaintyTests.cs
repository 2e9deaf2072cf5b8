using System.Globalization;
using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>
/// The published and measured errors that can be worked out again: those whose counts, classes or weather are at hand. Each to
/// within half a unit of its last digit.
/// </summary>
public class ForecastUncertaintyTests
{
    private const string Choice = "chosen from the measured ones; checked with the forecast error";
    private const string NoPairs = "measured or published without the forecasts that it comes from";
    private const string Weather = "a frequency of the weather, not an error of forecasts";

    private static readonly List<Dictionary<string, string>> s_rows = CheckFile.Read("Futures/forecast-uncertainty.csv");
    private static readonly List<Dictionary<string, string>> s_checks = CheckFile.Read("Verification/verification-checks.csv");

    public static TheoryData<int> Rows => [.. Enumerable.Range(0, s_rows.Count).Where(i => WhyNot(s_rows[i]) is null)];

    [Theory]
    [MemberData(nameof(Rows))]
    public void Is_worked_out_again_to_its_last_digit_in_row(int row)
    {
        var printed = s_rows[row]["value"];

        Assert.Equal(Number(printed), WorkedOut(s_rows[row]), 0.5001 * LastDigit(printed));
    }

    [Fact]
    public void Every_other_row_has_a_reason()
    {
        var reasons = s_rows.CountBy(row => WhyNot(row) ?? "").ToDictionary();

        Assert.Equal(244, s_rows.Count);
        Assert.Equal(new Dictionary<string, int> { [""] = 62, [Choice] = 61, [NoPairs] = 113, [Weather] = 8 }, reasons);
    }

    private static string? WhyNot(Dictionary<string, string> row) => (row["variable"], row["lead_day"], row["error_metric"]) switch
    {
        (_, _, var metric) when metric.StartsWith("recommended_", StringComparison.Ordinal) => Choice,
        ("temperature", "raw_grid", _) => Choice,
        ("precip", "climatology", _) => Weather,
        ("frost_tmin_le_0C", "2", _) => null,
        ("precip_ge_0.25mm", "1", "HSS_persistence") => NoPairs,
        ("precip_ge_0.25mm", "1" or "climatology", _) => null,
        ("precip_gt_0.2mm_probability", _, _) => null,
        (_, _, "equivalent_normal_sd") => null,
        _ => OfTwoCities(row) ? null : NoPairs,
    };

    private static bool OfTwoCities(Dictionary<string, string> row) => row["source"].StartsWith("vega-datasets", StringComparison.Ordinal);

    private static double WorkedOut(Dictionary<string, string> row) => row["variable"] switch
    {
        "frost_tmin_le_0C" => Checked("FROST48", "contingency", row["error_metric"]),
        "precip_ge_0.25mm" => row["error_metric"] switch
        {
            "P_wet_given_forecast_wet" => 1 - Checked("WET1", "contingency", "FAR"),
            "P_wet_given_forecast_dry" => Rates("WET1").GivenNo,
            "base_rate" => Rates("WET1").Base,
            var metric => Checked("WET1", "contingency", metric),
        },
        "precip_gt_0.2mm_probability" => Tampere(row["lead_day"] == "1" ? "TAMPERE24" : "TAMPERE48", row["error_metric"]),
        _ when row["error_metric"] == "equivalent_normal_sd" => ContinuousScores.SdFromWithin(Within(row) / 100, 2),
        _ => TwoCities.ScoreOf(row),
    };

    private static double Tampere(string forecasts, string metric) => metric switch
    {
        "Brier" => Checked(forecasts, "brierBins", "BS"),
        "reliability" => Checked(forecasts, "brierBins", "REL"),
        "resolution" => Checked(forecasts, "brierBins", "RES"),
        "BSS_vs_sample_climatology" => Checked(forecasts, "brierBins", "BSS"),
        _ => CheckedMetrics.Covered["aucBins"](Inputs(forecasts))!.Value,
    };

    private static double Checked(string rows, string group, string metric) => CheckedMetrics.Covered[$"{group}.{metric}"](Inputs(rows))!.Value;

    private static CheckJson Inputs(string rows) =>
        new(s_checks.First(row => row["id"].StartsWith($"{rows}-", StringComparison.Ordinal))["inputs"]);

    private static (double GivenNo, double Base) Rates(string rows)
    {
        var x = Inputs(rows);
        var events = x["hits"] + x["misses"];
        var no = x["misses"] + x["correctNegatives"];
        return (x["misses"] / no, events / (no + x["hits"] + x["falseAlarms"]));
    }

    /// <summary>Percent within 2 °C that the same publication gives.</summary>
    private static double Within(Dictionary<string, string> row) => Number(s_rows.Single(other =>
        other["error_metric"] == "within_2C" && other["variable"] == row["variable"]
        && other["lead_day"] == row["lead_day"] && other["source"] == row["source"])["value"]);

    private static double LastDigit(string number) => Math.Pow(10, -(number.Length - number.IndexOf('.', StringComparison.Ordinal) - 1));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
