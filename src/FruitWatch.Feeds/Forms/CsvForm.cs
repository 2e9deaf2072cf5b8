using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Mapping;

namespace FruitWatch.Feeds.Forms;

/// <summary>Text in rows and columns: one row a day, one row a reading, or one row for each element of a day.</summary>
internal sealed record CsvForm() : FeedForm("csv", LocatorKind.Column)
{
    public string Delimiter { get; private init; } = ",";

    public bool Header { get; private init; }

    /// <summary>The columns' names, where the file has no header.</summary>
    public IReadOnlyList<string> Columns { get; private init; } = [];

    public char Decimal { get; private init; } = '.';

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
            KeepFromStart = place.Member("keepFrom") is not null,
        };
        if (form.KeepFromStart && place.Text("keepFrom") != "{start}")
            place.Refuse("keepFrom", "Rows can be left out before {start} only.", "Write \"{start}\", or leave it out.");
        if (form.Comment is { Length: 0 })
            place.Refuse("comment", "The mark of a comment is empty.", "Write for example \"#\", or leave it out.");
        if (place.IsClean && form.Header == (form.Columns.Count > 0))
            place.Refuse(
                "columns",
                "Names of columns are given exactly when the file has no header.",
                "Set header to true and remove columns, or the other way round.");
        if (form.Columns.Distinct().Count() != form.Columns.Count)
            place.Refuse("columns", "A column is named twice.", "Give each its own name.");
        return form;
    }

    public override void Check(DescriptionPlace place, RequestDescription request)
    {
        if (KeepFromStart && request.Back is null)
            place.Refuse(
                "keepFrom",
                "Nothing says how many days back {start} is.",
                "Add dates.back to the request, or horizonDays.back under expect.");
    }

    public override FeedTable Cut(FeedInput input)
    {
        using var rows = new CsvRows(this, input.Body);
        var description = input.Description;
        var time = rows.Column(description.Time.Locator.Column, "The time");
        var dayEnds = description.Time.DayEndsColumn is { } name ? rows.Column(name, "The end of the day") : -1;
        var series = description.Series.SelectMany(one => CsvSeries.Of(one, rows)).ToList();
        var dates = new StampReader(description.Time, input.Site.Zone);
        while (rows.Next())
        {
            var when = rows.Field(time);
            // Only to spare the memory of decades nobody asked for; a date that cannot be read is refused later, with its place.
            if (KeepFromStart && dates.DateOf(when) < input.KeepFrom)
                continue;
            foreach (var one in series)
                one.Take(rows, when, dayEnds < 0 ? null : rows.Field(dayEnds));
        }
        return new FeedTable(null, [.. series.Select(one => one.Cells(description.Time.Locator.Column))]);
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
