using System.Buffers.Text;
using System.Globalization;
using System.Text;
using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Forms;

/// <summary>
/// The days of a GHCN-Daily file. A line has 269 columns: station 1–11, year 12–15, month 16–17, element 18–21, then for each
/// of 31 days a value in five columns and the flags of measurement, quality and source in one each.
/// </summary>
internal sealed class DlyRows : TableRows
{
    public const string Date = "DATE";

    private const int LineLength = 269;
    private const int ValuesFrom = 21;
    private const int DayLength = 8;
    private const int ValueLength = 5;
    private const int FlagCount = 3;
    private const int DaysOfLine = 31;

    // A row's number for messages holds both its line and its day.
    private const int RowsOfLine = DaysOfLine + 1;

    private readonly ReadOnlyMemory<byte> body;
    private readonly LocalDate from;
    private readonly string?[] dates = new string?[DaysOfLine + 1];
    private (int Year, int Month) month;
    private ReadOnlyMemory<byte> line;
    private int next;
    private int lineNumber;
    private int day = DaysOfLine;
    private int daysOfMonth;

    /// <param name="body">The file.</param>
    /// <param name="from">Months that end before this day are passed over.</param>
    public DlyRows(ReadOnlyMemory<byte> body, LocalDate from)
    {
        this.body = Body.Checked(body);
        Body.CheckUtf8(this.body.Span);
        this.from = from;
    }

    public static IReadOnlyList<string> ColumnNames { get; } = ["ID", "ELEMENT", Date, "VALUE", "MFLAG", "QFLAG", "SFLAG"];

    public override int Row => (lineNumber * RowsOfLine) + day;

    protected override IReadOnlyList<string> Names => ColumnNames;

    protected override string NamesPlace => "series.column";

    public override bool Next()
    {
        do
        {
            if (day < DaysOfLine)
                day++;
            else if (!NextLine())
                return false;
        }
        while (!IsDay());
        return true;
    }

    public override string Field(int column) => column switch
    {
        2 => dates[day] ??= string.Create(CultureInfo.InvariantCulture, $"{month.Year:0000}{month.Month:00}{day:00}"),
        _ => Encoding.UTF8.GetString(Bytes(column)),
    };

    public override bool Is(int column, ReadOnlySpan<byte> text)
    {
        ReadOnlySpan<byte> field = column == 2 ? Encoding.UTF8.GetBytes(Field(column)) : Bytes(column);
        return field[Ascii.Trim(field)].SequenceEqual(text);
    }

    public override string PlaceOf(int row, string column)
    {
        var (number, ofDay) = (row / RowsOfLine, row % RowsOfLine);
        var first = column switch
        {
            "ID" => 1,
            Date => 12,
            "ELEMENT" => 18,
            _ => ValuesFrom + ((ofDay - 1) * DayLength) + 1,
        };
        return string.Create(CultureInfo.InvariantCulture, $"line {number}, column {first}");
    }

    public override void Dispose()
    {
    }

    private ReadOnlySpan<byte> Bytes(int column)
    {
        var value = ValuesFrom + ((day - 1) * DayLength);
        var (at, length) = column switch
        {
            0 => (0, 11),
            1 => (17, 4),
            3 => (value, ValueLength),
            _ => (value + ValueLength + column - 4, 1),
        };
        // Some programs cut the blanks at the end of a line; a flag that is not there is blank.
        var bytes = line.Span;
        return bytes.Slice(Math.Min(at, bytes.Length), Math.Clamp(bytes.Length - at, 0, length));
    }

    private bool NextLine()
    {
        while (next < body.Length)
        {
            var rest = body[next..];
            var end = rest.Span.IndexOf((byte)'\n');
            line = end < 0 ? rest : rest[..end];
            next += line.Length + 1;
            lineNumber++;
            line = line[..line.Span.TrimEnd("\r"u8).Length];
            if (line.Span.IndexOfAnyExcept((byte)' ', (byte)'\t') < 0)
                continue;
            Open();
            if (new LocalDate(month.Year, month.Month, daysOfMonth) < from)
                continue;
            day = 1;
            return true;
        }
        return false;
    }

    private void Open()
    {
        if (line.Length is < LineLength - FlagCount or > LineLength)
            throw new FeedException(
                FeedCodes.RaggedRow,
                $"The line has {line.Length} columns instead of {LineLength}.",
                $"line {lineNumber}",
                "Fetch the file again; if it is not a GHCN-Daily .dly file, describe it as csv.");
        if (!Utf8Parser.TryParse(line.Span[11..15], out int year, out var used) || used != 4 || year is < 1700 or > 2200
            || !Utf8Parser.TryParse(line.Span[15..17], out int ofYear, out used) || used != 2 || ofYear is < 1 or > 12)
            throw new FeedException(
                FeedCodes.TimeUnparseable,
                $"\"{FailureDescription.Quoted(Encoding.UTF8.GetString(line.Span[11..17]))}\" is not a year and a month.",
                $"line {lineNumber}, column 12",
                "Fetch the file again; if it is not a GHCN-Daily .dly file, describe it as csv.");
        if (month != (year, ofYear))
            Array.Clear(dates);
        month = (year, ofYear);
        daysOfMonth = CalendarSystem.Iso.GetDaysInMonth(year, ofYear);
    }

    /// <summary>Whether the month has this day. A value for one that it has not means that the line is out of step.</summary>
    private bool IsDay()
    {
        if (day <= daysOfMonth)
            return true;
        var value = Bytes(3);
        if (value[Ascii.Trim(value)] is { Length: > 0 } known && !known.SequenceEqual("-9999"u8))
            throw new FeedException(
                FeedCodes.TimeUnparseable,
                string.Create(CultureInfo.InvariantCulture, $"The line has a value for the {day}th day of a month of {daysOfMonth} days."),
                PlaceOf(Row, "VALUE"),
                "The columns of the line are out of step: fetch the file again.");
        return false;
    }
}
