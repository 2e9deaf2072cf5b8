using System.Text;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>The columns one series (or one member of it) is read from, and the cells read so far.</summary>
internal sealed class RowSeries
{
    private readonly SeriesDescription series;
    private readonly string? member;
    private readonly string column;
    private readonly int value;
    private readonly List<(int Column, byte[] EqualTo)> where;
    private readonly List<(int Column, RejectDescription Reject)> rejectIf;
    private readonly List<FeedCell> cells = [];

    private RowSeries(SeriesDescription series, string? member, string suffix, TableRows rows)
    {
        this.series = series;
        this.member = member;
        column = series.Locator.Column + suffix;
        value = rows.Column(column, $"The series {series.Name}");
        where = [.. series.Where.Select(one => (
            rows.Column(one.Locator.Column, $"A column that {series.Name} depends on"), Encoding.UTF8.GetBytes(one.EqualTo ?? "")))];
        rejectIf = [.. series.RejectIf.Select(one => (rows.Column(one.Locator.Column, $"The marks of {series.Name}"), one))];
    }

    public static IEnumerable<RowSeries> Of(SeriesDescription series, TableRows rows)
    {
        if (series.Members is { } members)
        {
            return members.All()
                .Where(one => rows.Has(series.Locator.Column + one.Suffix))
                .Select(one => new RowSeries(series, one.Label, one.Suffix, rows));
        }
        return series.Optional && !rows.Has(series.Locator.Column) ? [] : [new RowSeries(series, null, "", rows)];
    }

    /// <summary>Whether the current row belongs to the series.</summary>
    public bool IsMeant(TableRows rows)
    {
        foreach (var (at, equalTo) in where)
        {
            if (!rows.Is(at, equalTo))
                return false;
        }
        return true;
    }

    public void Take(TableRows rows, string time, string? dayEnds)
    {
        var flagged = false;
        foreach (var (at, reject) in rejectIf)
            flagged |= reject.Rejects(rows.Field(at));
        cells.Add(new FeedCell(time, rows.Field(value), flagged, dayEnds, rows.Row));
    }

    public SeriesCells Cells(TableRows rows, string timeColumn) =>
        new(series, member, series.Unit, cells, cell => rows.PlaceOf(cell.Row, column), cell => rows.PlaceOf(cell.Row, timeColumn));
}
