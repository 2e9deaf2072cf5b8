using FruitWatch.Model.Catalogue;

namespace FruitWatch.Service.Tests.Accounts;

/// <summary>A mistake in the case file: one message with file, line, column and what is expected; nothing is printed.</summary>
public sealed class MalformedCaseTests : IDisposable
{
    private const string Date = "expected year-month-day, such as 2026-05-31.";
    private const string Inoculated = "\"inoculated\": \"2026-04-01\"";
    private const string Depth = "\"d0\": 0.15";
    private const string Event = "\"kind\": \"squeeze\", \"value\": \"right\"";

    private readonly AccountFiles files = new();

    [Theory]
    [InlineData("47.5,", "47.5 // north\n,", "case.json, line 2, column 20: not valid JSON: '/' is invalid after a value. Expected either ',', '}', or ']'.")]
    [InlineData(Depth, Depth + ",", "case.json, line 8, column 3: not valid JSON: The JSON object contains a trailing comma at the end.")]
    [InlineData(Depth, Depth + ", \"d0\": 0.2", "case.json, line 7, column 17 (/bed/d0): stands there twice; expected once.")]
    [InlineData("\"wine-cap\"", "\"\\ud800\"", "case.json, line 5, column 16 (/bed/species): not valid text; expected whole characters.")]
    [InlineData("\"latitude\": 47.5,", "", "case.json, line 1, column 1 (the whole file): 'latitude' is missing.")]
    [InlineData("47.5", "\"47.5\"", "case.json, line 2, column 15 (/latitude): expected a number.")]
    [InlineData("47.5", "1e999", "case.json, line 2, column 15 (/latitude): expected a number.")]
    [InlineData("47.5", "147.5", "case.json, line 2, column 15 (/latitude): 147.5 is out of range; expected -90 to 90.")]
    [InlineData("\"hs\"", "\"HS\"", "case.json, line 3, column 10 (/et0): 'HS' is not known; expected hs, pm.")]
    [InlineData("\"hs\"", "1", "case.json, line 3, column 10 (/et0): expected text.")]
    [InlineData(
        "\"et0\"", "\"eto\"",
        "case.json, line 3, column 10 (/eto): 'eto' is not known here; expected about, latitude, elevation, coastal, et0, wind_height_m, bed, inoculated, until, water, covers, events.")]
    [InlineData("\"hs\"", "\"hs\", \"coastal\": \"yes\"", "case.json, line 3, column 27 (/coastal): expected true or false.")]
    [InlineData("0.15", "15", "case.json, line 7, column 11 (/bed/d0): 15 is out of range; expected 0.005 to 3.")]
    [InlineData("0.15", "\"15 cm\"", "case.json, line 7, column 11 (/bed/d0): expected a number.")]
    [InlineData(Depth, Depth + ", \"shade\": 60", "case.json, line 7, column 26 (/bed/shade): 60 is out of range; expected 0 to 1.")]
    [InlineData(Depth, Depth + ", \"mulch_cm\": 3", "case.json, line 4, column 10 (/bed): 'mulch_material' is missing.")]
    [InlineData(Depth, Depth + ", \"layers\": []", "case.json, line 6, column 17 (/bed/material): 'material' stands beside 'layers'; expected one layer's material, d0 and laid, or layers.")]
    [InlineData("\"material\": \"hardwood-chips\",\n    \"d0\": 0.15", "\"layers\": []", "case.json, line 6, column 15 (/bed/layers): expected at least one layer.")]
    [InlineData(Depth, Depth + ", \"laid\": \"2026-05-01\"", "case.json, line 7, column 25 (/bed/laid): after the inoculation on 2026-04-01; later fillings are topped-up events.")]
    [InlineData(Inoculated, "\"inoculated\": \"1 April 2026\"", "case.json, line 9, column 17 (/inoculated): '1 April 2026' is not a date; " + Date)]
    [InlineData(Inoculated, Inoculated + ", \"until\": \"2026-03-01\"", "case.json, line 9, column 40 (/until): 2026-03-01 is before the inoculation on 2026-04-01; expected that day or later.")]
    [InlineData(Inoculated, Inoculated + ", \"until\": \"2026-05-01\"", "weather.csv: the weather runs from 2026-04-01 to 2026-04-04; case.json needs 2026-04-01 (inoculated) to 2026-05-01 (until).")]
    [InlineData(Inoculated, "\"inoculated\": \"2026-03-01\"", "weather.csv: the weather runs from 2026-04-01 to 2026-04-04; case.json needs 2026-03-01 (inoculated) to 2026-04-04 (the weather's last day).")]
    [InlineData("\"date\": \"2026-04-02\"", "\"date\": \"2026-03-02\"", "case.json, line 11, column 15 (/events/0/date): 2026-03-02 is before the inoculation on 2026-04-01; expected that day or later.")]
    [InlineData("\"date\"", "\"day\"", "case.json, line 11, column 14 (/events/0/day): 'day' is not known here; expected date, time, kind, value, material, d0.")]
    [InlineData("\"kind\": \"squeeze\", ", "", "case.json, line 11, column 5 (/events/0): 'kind' is missing.")]
    [InlineData(
        "squeeze", "squeezed",
        "case.json, line 11, column 37 (/events/0/kind): 'squeezed' is not known; expected squeeze, moisture, water, gauge, cover, mycelium, pins, no-pins, picked, flush-over, topped-up, contamination, spawn-taken, spent.")]
    [InlineData("\"right\"", "\"wet\"", "case.json, line 11, column 57 (/events/0/value): 'wet' is not known; expected crumbles, right, dripping.")]
    [InlineData("\"right\"", "55", "case.json, line 11, column 57 (/events/0/value): 55 is out of range; expected 0.01 to 0.99.")]
    [InlineData(Event, "\"kind\": \"squeeze\"", "case.json, line 11, column 5 (/events/0): 'value' is missing.")]
    [InlineData(Event, "\"kind\": \"pins\", \"value\": 12", "case.json, line 11, column 54 (/events/0/value): 'value' is not known here; expected date, time, kind.")]
    [InlineData(Event, "\"kind\": \"water\", \"value\": \"5 mm\"", "case.json, line 11, column 55 (/events/0/value): expected a number.")]
    [InlineData(Event, "\"kind\": \"cover\", \"value\": \"tarp\"", "case.json, line 11, column 55 (/events/0/value): 'tarp' is not known; expected none, sheet, pierced-sheet.")]
    [InlineData(Event, "\"kind\": \"topped-up\", \"material\": \"sawdust\"", "case.json, line 11, column 5 (/events/0): 'd0' is missing.")]
    [InlineData(Event, Event + ", \"time\": \"7.30\"", "case.json, line 11, column 74 (/events/0/time): '7.30' is not a time of day; expected hours:minutes, such as 07:30.")]
    [InlineData("{ \"date\": \"2026-04-02\", " + Event + " }", "5", "case.json, line 11, column 5 (/events/0): expected an object.")]
    [InlineData("\"hs\"", "\"hs\", \"water\": { \"mm\": 5 }", "case.json, line 3, column 25 (/water): expected a list.")]
    [InlineData("\"hs\"", "\"hs\", \"water\": [{ \"date\": \"2026-04-02\", \"mm\": -5 }]", "case.json, line 3, column 56 (/water/0/mm): -5 is out of range; expected 0 to 1000.")]
    public void A_mistake_is_named_with_its_place(string right, string wrong, string message) =>
        Assert.Equal(message, files.Refusal(bed: AccountFiles.Case.Replace(right, wrong, StringComparison.Ordinal)));

    [Theory]
    [InlineData("", "case.json: the file is empty; expected a JSON object.")]
    [InlineData("{", "case.json, line 1, column 2: not valid JSON: There is an open JSON object or array that should be closed.")]
    [InlineData("[]", "case.json, line 1, column 1 (the whole file): expected an object.")]
    [InlineData("{}", "case.json, line 1, column 1 (the whole file): 'latitude' is missing.")]
    [InlineData("latitude: 47", "case.json, line 1, column 1: not valid JSON: 'l' is an invalid start of a value.")]
    public void A_file_that_is_no_case_is_refused(string text, string message) => Assert.Equal(message, files.Refusal(bed: text));

    [Theory]
    [InlineData("hardwood-chips", "gravel", "line 6, column 17 (/bed/material): 'gravel'")]
    [InlineData("wine-cap", "wine cap", "line 5, column 16 (/bed/species): 'wine cap'")]
    public void An_unknown_species_or_material_is_answered_with_those_there_are(string right, string wrong, string place)
    {
        var catalogue = BedCatalogue.BuiltIn;
        var known = right == "wine-cap" ? catalogue.Species.Keys : catalogue.Materials.Keys;

        Assert.Equal(
            $"case.json, {place} is not known; expected {string.Join(", ", known)}.",
            files.Refusal(bed: AccountFiles.Case.Replace(right, wrong, StringComparison.Ordinal)));
    }

    [Fact]
    public void Of_several_mistakes_the_first_that_is_read_is_named_alone() =>
        Assert.Equal(
            "weather.csv, line 3, column 2 (tmax_c): 'warm' is not a number; expected one with a decimal point, or nothing where it is unknown.",
            files.Refusal(AccountFiles.Weather.Replace("15.5", "warm", StringComparison.Ordinal), "{"));

    [Fact]
    public void A_file_without_mistakes_prints_a_line_a_day_under_its_header()
    {
        var lines = files.Run().Split('\n', StringSplitOptions.RemoveEmptyEntries);

        Assert.StartsWith("date,et0_mm,", lines[0], StringComparison.Ordinal);
        Assert.Equal(["2026-04-01", "2026-04-02", "2026-04-03", "2026-04-04"], lines.Skip(1).Select(line => line[..10]));
    }

    public void Dispose() => files.Dispose();
}
