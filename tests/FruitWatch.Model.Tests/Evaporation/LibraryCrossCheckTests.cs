using System.Globalization;
using FruitWatch.Model.Evaporation;

namespace FruitWatch.Model.Tests.Evaporation;

/// <summary>
/// Against general-purpose libraries, each named with its version in the table. The allowance is for what differs by
/// definition: FAO-56's declination lags by up to 1.2°, its day has no refraction, its air is 20 °C at the sea.
/// </summary>
public class LibraryCrossCheckTests
{
    private static readonly List<Dictionary<string, string>> s_rows = CheckFile.Read("Evapotranspiration/crosscheck-values.csv");

    private static readonly Dictionary<string, Func<CheckInputs, double>> s_functions = new()
    {
        ["daylight_hours"] = x => Sun.DaylightHours(x["lat"], x.Day),
        ["sunrise_to_sunset_hours"] = x => Sun.DaylightHours(x["lat"], x.Day),
        ["saturation_vapour_pressure"] = x => Vapour.Saturation(x["T"]),
        ["atmospheric_pressure"] = x => Vapour.AirPressure(x["z"]),
        ["vapour_pressure_from_rh"] = x => Vapour.FromMeanHumidity(x["T"], x["T"], x["RH"]),
        ["vapour_pressure_deficit_instant"] = x => Vapour.Deficit(x["T"], x["T"], Vapour.FromMeanHumidity(x["T"], x["T"], x["RH"])),
        ["dew_point_from_rh"] = x => Vapour.DewPoint(Vapour.FromMeanHumidity(x["T"], x["T"], x["RH"])),
        ["actual_vapour_pressure_psychrometer"] = x =>
            Vapour.FromPsychrometer(x["Tdry"], x["Twet"], Vapour.AirPressure(x["z"]), 0.000662),
    };

    public static TheoryData<string, string> Sources => [.. s_rows.Select(row => (row["library"], row["quantity"])).Distinct()];

    [Theory]
    [MemberData(nameof(Sources))]
    public void Agrees_with_the_library_on(string library, string quantity)
    {
        var rows = s_rows.Where(row => row["library"] == library && row["quantity"] == quantity).ToList();

        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.Equal(
            Number(row["library_value"]), s_functions[quantity](new CheckInputs(row["inputs"])), Number(row["suggested_tolerance"])));
    }

    [Fact]
    public void The_equations_themselves_are_met_to_the_last_digit_given() =>
        Assert.All(s_rows, row => Assert.Equal(
            Number(row["fao56_value"]),
            s_functions[row["quantity"]](new CheckInputs(row["inputs"])),
            0.5001 * LastDigit(row["fao56_value"])));

    [Fact]
    public void The_geometric_day_is_shorter_than_from_civil_sunrise_to_sunset_but_not_by_half_an_hour() =>
        Assert.All(
            s_rows.Where(row => row["quantity"] == "sunrise_to_sunset_hours"),
            row => Assert.InRange(Number(row["library_value"]) - Sun.DaylightHours(Latitude(row), new CheckInputs(row["inputs"]).Day), 0, 0.5));

    [Fact]
    public void The_table_is_whole() => Assert.Equal(124, s_rows.Count);

    private static double Latitude(Dictionary<string, string> row) => new CheckInputs(row["inputs"])["lat"];

    private static double LastDigit(string number) => Math.Pow(10, -(number.Length - number.IndexOf('.', StringComparison.Ordinal) - 1));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
