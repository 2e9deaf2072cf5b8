using System.Globalization;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>The columns one series (or one member of it) is read from, and the cells read so far.</summary>
internal sealed class CsvSeries
{
    private readonly SeriesDescription series;
    private readonly string? member;
    private readonly string column;
    private readonly int value;
    private readonly List<(int Column, string? EqualTo)> where;
    private readonly List<(int Column, RejectDescription Reject)> rejectIf;
    private readonly List<FeedCell> cells = [];

    private CsvSeries(SeriesDescription series, string? member, string suffix, CsvRows rows)
    {
        this.series = series;
        this.member = member;
        column = series.Locator.Column + suffix;
        value = rows.Column(column, $"The series {series.Name}");
        where = [.. series.Where.Select(one => (rows.Column(one.Locator.Column, $"A column that {series.Name} depends on"), one.EqualTo))];
        rejectIf = [.. series.RejectIf.Select(one => (rows.Column(one.Locator.Column, $"The marks of {series.Name}"), one))];
    }

    public static IEnumerable<CsvSeries> Of(SeriesDescription series, CsvRows rows)
    {
        if (series.Members is { } members)
        {
            return members.All()
                .Where(one => rows.Has(series.Locator.Column + one.Suffix))
                .Select(one => new CsvSeries(series, one.Label, one.Suffix, rows));
        }
        return series.Optional && !rows.Has(series.Locator.Column) ? [] : [new CsvSeries(series, null, "", rows)];
    }

    public void Take(CsvRows row, string time, string? dayEnds)
    {
        foreach (var (at, equalTo) in where)
        {
            if (row.Field(at).Trim() != equalTo)
                return;
        }
        var flagged = rejectIf.Exists(one => one.Reject.Rejects(row.Field(one.Column)));
        cells.Add(new FeedCell(time, row.Field(value), flagged, dayEnds, row.Line));
    }

    public SeriesCells Cells(string timeColumn) =>
        new(series, member, series.Unit, cells, cell => PlaceOf(cell, column), cell => PlaceOf(cell, timeColumn));

    private static string PlaceOf(FeedCell cell, string column) =>
        string.Create(CultureInfo.InvariantCulture, $"line {cell.Row}, column {column}");
}
