using System.Text.Json;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>Text in rows and columns: one row a day, one row a reading, or one row for each element of a day.</summary>
internal sealed record CsvForm() : FeedForm("csv", LocatorKind.Column)
{
    public string Delimiter { get; private init; } = ",";

    public bool Header { get; private init; }

    /// <summary>The columns' names, where the file has no header.</summary>
    public IReadOnlyList<string> Columns { get; private init; } = [];

    public char Decimal { get; private init; } = '.';

    public override char DecimalSign => Decimal;

    public string Encoding { get; private init; } = "utf-8";

    public int SkipLines { get; private init; }

    public string? Comment { get; private init; }

    public bool AllowRagged { get; private init; }

    public bool KeepFromStart { get; private init; }

    public static FeedForm Read(DescriptionPlace place)
    {
        place.Object("kind!", "delimiter!", "header!", "columns", "decimal", "encoding", "skipLines", "comment", "allowRagged", "keepFrom");
        var form = new CsvForm
        {
            Delimiter = OneOf(place, "delimiter", ",", ";", "\t", "|"),
            Header = place.Flag("header"),
            Columns = place.Texts("columns"),
            Decimal = OneOf(place, "decimal", ".", ",")[0],
            Encoding = OneOf(place, "encoding", "utf-8", "iso-8859-1", "windows-1252"),
            SkipLines = place.Whole("skipLines", 0, 100) ?? 0,
            Comment = place.Text("comment", 3),
            AllowRagged = place.Flag("allowRagged"),
            KeepFromStart = ReadKeepFrom(place),
        };
        if (form.Comment is { } comment && place.Member("comment") is { IsClean: true }
            && (comment.Length == 0 || comment.Any(letter => letter is <= ' ' or >= '\u007f' or '"' || letter == form.Delimiter[0])))
            place.Refuse(
                "comment",
                "The mark of a comment is empty, or holds a blank, the delimiter, a quotation mark or a letter beyond ASCII.",
                "Write for example \"#\", or leave it out.");
        if (place.IsClean && form.Header == (form.Columns.Count > 0))
            place.Refuse(
                "columns",
                "Names of columns are given exactly when the file has no header.",
                "Set header to true and remove columns, or the other way round.");
        if (form.Columns.Distinct().Count() != form.Columns.Count)
            place.Refuse("columns", "A column is named twice.", "Give each its own name.");
        return form;
    }

    public override void Check(DescriptionPlace place, RequestDescription request) => CheckKeepFrom(place, KeepFromStart, request);

    /// <summary>Whether rows before the first day needed are passed over.</summary>
    public static bool ReadKeepFrom(DescriptionPlace place)
    {
        if (place.Member("keepFrom") is null)
            return false;
        if (place.Text("keepFrom") is { } from && from != "{start}")
            place.Refuse("keepFrom", "Rows can be left out before {start} only.", "Write \"{start}\", or leave it out.");
        return true;
    }

    public static void CheckKeepFrom(DescriptionPlace place, bool keepFromStart, RequestDescription request)
    {
        if (keepFromStart && request.Back is null)
            place.Refuse(
                "keepFrom",
                "Nothing says how many days back {start} is.",
                "Add dates.back to the request, or horizonDays.back under expect.");
    }

    public override void Write(Utf8JsonWriter json)
    {
        json.WriteString("delimiter", Delimiter);
        json.WriteBoolean("header", Header);
        if (!Header)
        {
            json.WriteStartArray("columns");
            foreach (var column in Columns)
                json.WriteStringValue(column);
            json.WriteEndArray();
        }
        json.WriteString("decimal", [Decimal]);
        json.WriteString("encoding", Encoding);
        json.WriteNumber("skipLines", SkipLines);
        if (Comment is not null)
            json.WriteString("comment", Comment);
        json.WriteBoolean("allowRagged", AllowRagged);
        WriteKeepFrom(json, KeepFromStart);
    }

    public static void WriteKeepFrom(Utf8JsonWriter json, bool keepFromStart)
    {
        if (keepFromStart)
            json.WriteString("keepFrom", "{start}");
    }

    public override FeedTable Cut(FeedInput input)
    {
        using var rows = new CsvRows(this, input.Body);
        return rows.Cut(input, KeepFromStart);
    }

    private static string OneOf(DescriptionPlace place, string member, params string[] allowed)
    {
        var text = place.Text(member) ?? allowed[0];
        if (allowed.Contains(text))
            return text;
        place.Refuse(
            member,
            "This is not one of the words allowed here.",
            $"Use one of: {string.Join("  ", allowed.Select(one => one == "\t" ? "\\t" : one))}");
        return allowed[0];
    }
}
