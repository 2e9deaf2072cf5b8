using System.Globalization;
using System.Text;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Web;

namespace FruitWatch.Service.Beds;

/// <summary>
/// An account as CSV (RFC 4180): the fields of the JSON in their order and under their names, units included. Days, numbers and
/// words of fixed sets only, so that no cell can hold a formula.
/// </summary>
internal static class AccountCsv
{
    /// <summary>The mark by which spreadsheets know UTF-8.</summary>
    private const char ByteOrderMark = '\uFEFF';

    private static readonly (string Name, Func<AccountDayBody, string> Cell)[] s_columns =
    [
        ("date", d => ApiText.Day(d.Date)),
        ("forecast", d => d.Forecast ? "true" : "false"),
        ("phase", d => ApiJson.WordOf(d.Phase)),
        ("score", d => Number(d.Score)),
        ("limit", d => ApiJson.WordOf(d.Limit)),
        ("spawnRun", d => Number(d.SpawnRun)),
        ("progress", d => Number(d.Progress)),
        ("flushes", d => Number(d.Flushes)),
        ("event", d => ApiJson.WordOf(d.Event)),
        ("waterMm", d => Number(d.WaterMm)),
        ("moisture", d => Number(d.Moisture)),
        ("waterMark", d => Number(d.WaterMark)),
        ("wetBasis", d => Number(d.WetBasis)),
        ("air", d => Number(d.Air)),
        ("bedC", d => Number(d.BedC)),
        ("soilC", d => Number(d.SoilC)),
        ("pinZoneC", d => Number(d.PinZoneC)),
        ("groundMinC", d => Number(d.GroundMinC)),
        ("et0Mm", d => Number(d.Et0Mm)),
        ("rainMm", d => Number(d.RainMm)),
        ("givenMm", d => Number(d.GivenMm)),
        ("drainedMm", d => Number(d.DrainedMm)),
        ("evaporatedMm", d => Number(d.EvaporatedMm)),
        ("frostNights", d => Number(d.FrostNights)),
        ("depthM", d => Number(d.DepthM)),
        ("temperatureSource", d => Word(d.TemperatureSource)),
        ("temperatureFeedId", d => Key(d.TemperatureFeedId)),
        ("rainSource", d => Word(d.RainSource)),
        ("rainFeedId", d => Key(d.RainFeedId)),
    ];

    public static string Write(IEnumerable<AccountDayBody> days)
    {
        var text = new StringBuilder().Append(ByteOrderMark).AppendJoin(',', s_columns.Select(column => column.Name)).Append("\r\n");
        foreach (var day in days)
            text.AppendJoin(',', s_columns.Select(column => column.Cell(day))).Append("\r\n");
        return text.ToString();
    }

    private static string Word(SourceKind? word) => word is { } known ? ApiJson.WordOf(known) : "";

    private static string Key(long? key) => key?.ToString(CultureInfo.InvariantCulture) ?? "";

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
