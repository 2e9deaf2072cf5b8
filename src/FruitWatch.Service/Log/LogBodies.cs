using System.ComponentModel;
using FruitWatch.Service.People;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Log;

/// <summary>A log entry as the API gives it.</summary>
[Description("Something done to or seen at a bed.")]
internal sealed record LogEntryBody(
    [property: Description("Key.")] long Id,
    [property: Description("Key of the bed.")] long BedId,
    [property: Description("The site's local day on which it counts.")] LocalDate On,
    [property: Description("Local time of day; orders the entries of one day.")] LocalTime At,
    [property: Description("What kind of entry.")] string Kind,
    [property: Description("How much: litres watered, mm in the gauge, kg picked, a share 0 to 1 of moisture or mycelium.")] double? Amount,
    [property: Description("Which: result of a squeeze test, cover, key of a material.")] string? Text,
    [property: Description("Depth of what was laid on top, in m.")] double? DepthM,
    [property: Description("In the grower's words.")] string? Note,
    [property: Description("When it reached the service.")] Instant RecordedAt,
    [property: Description("Name of the member who recorded it, or what was noted before there were members; null where nobody is known.")] string? RecordedBy,
    [property: Description("Key of the member who recorded it; null where it was nobody known, or somebody who has left.")] long? RecordedById,
    [property: Description("Key of the entry that it corrects.")] long? ReplacesId)
{
    public const string Gone = "somebody who has left";

    public static LogEntryBody Of(LogEntry row, IReadOnlyDictionary<long, string> names) => new(
        row.Id,
        row.BedId,
        row.On,
        row.At,
        row.Kind,
        row.Amount,
        row.Text,
        row.Depth,
        row.Note,
        row.RecordedAt,
        Recorders.Name(row, names, Gone),
        Recorders.PersonOf(row.RecordedBy),
        row.ReplacesId);
}

/// <summary>A log entry as it is sent.</summary>
[Description("A log entry as it is made, or as it is to be instead of another one.")]
internal sealed record LogEntryChange(
    [property: Description(
        "watered, gauge, squeeze, moisture, cover, mycelium, pins, no-pins, picked, flush-over, topped-up, contamination, spawn-taken or spent.")]
    string Kind,
    [property: Description("The site's local day on which it counts; from the inoculation to today.")] LocalDate On,
    [property: Description("Local time of day; noon where left out.")] LocalTime? At,
    [property: Description(
        "watered: litres, 0.1 to 100000. gauge: mm, 0 to 2000. moisture: share of water by weight, 0.01 to 0.99. "
        + "mycelium: share of the bed, 0 to 1. picked: kg, 0 to 10000. Not for other kinds.")]
    double? Amount,
    [property: Description(
        "squeeze: crumbles, right or dripping. cover: none, sheet or pierced-sheet. topped-up: key of a material. Not for other kinds.")]
    string? Text,
    [property: Description("topped-up: settled depth in m, 0.005 to 3. Not for other kinds.")] double? DepthM,
    [property: Description("Up to 1000 characters.")] string? Note) : IReadBody<LogEntryChange>
{
    public static LogEntryChange Read(JsonFields fields)
    {
        var kind = fields.Text("kind", 40, required: true) ?? "";
        var change = new LogEntryChange(
            kind,
            fields.Date("on", required: true) ?? default,
            fields.Time("at"),
            // The kind says how much can be; this is for what no kind takes.
            fields.Number("amount", -1e9, 1e9),
            fields.Text("text", 80),
            fields.Number("depthM", -1e3, 1e3),
            fields.Text("note", LogBook.LongestNote));
        if (kind.Length > 0 && !LogKinds.All.Contains(kind))
            fields.Refuse("kind", $"'{kind}' is not known. Expected {string.Join(", ", LogKinds.All)}.");
        return change;
    }

    public LogEntry ToRow(long bedId) => new()
    {
        BedId = bedId,
        On = On,
        At = At ?? LocalTime.Noon,
        Kind = Kind,
        Amount = Amount,
        Text = Text,
        Depth = DepthM,
        Note = string.IsNullOrEmpty(Note) ? null : Note,
    };
}
