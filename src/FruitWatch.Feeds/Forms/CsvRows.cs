using System.Globalization;
using System.Text;
using CsvHelper;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>The rows of a CSV body, read strictly: every row as wide as the header, every name once.</summary>
internal sealed class CsvRows : TableRows
{
    private readonly CsvForm form;
    private readonly CsvReader reader;
    private readonly byte[]? longComment;
    private readonly List<string> names;
    private readonly string namesPlace;

    public CsvRows(CsvForm form, ReadOnlyMemory<byte> body)
    {
        this.form = form;
        longComment = form.Comment is { Length: > 1 } mark ? Encoding.UTF8.GetBytes(mark) : null;
        reader = CsvReader.Create(WithoutFirstLines(ToUtf8(form.Encoding, Body.Checked(body)), form.SkipLines), new CsvReaderOptions
        {
            Separator = form.Delimiter[0],
            HasHeader = false, // The header is read here, so that its faults are named as all others are.
            CommentPrefix = form.Comment is { Length: 1 } one ? one[0] : null,
            // No weather file breaks a line inside a field; an open quotation mark would swallow the rest of the file.
            AllowLineBreaksInQuotes = false,
            MalformedData = CsvMalformedDataHandling.Throw,
            TrackLineNumbers = true,
        });
        names = form.Header ? ReadHeader() : [.. form.Columns];
        namesPlace = form.Header ? $"line {Line}" : "format.columns";
    }

    /// <summary>The line of the current row, from 1.</summary>
    public override int Row => Line;

    protected override IReadOnlyList<string> Names => names;

    protected override string NamesPlace => namesPlace;

    private int Line => form.SkipLines + (int)reader.LineNumber;

    public override bool Next()
    {
        if (!ReadRow())
            return false;
        if (reader.FieldCount != names.Count && !form.AllowRagged)
            throw new FeedException(
                FeedCodes.RaggedRow,
                $"The row has {reader.FieldCount} fields instead of {names.Count}.",
                $"line {Line}",
                "Correct the row; a field that holds the delimiter goes in quotation marks.");
        return true;
    }

    /// <summary>A field of the current row; blank where a ragged row ends early.</summary>
    public override string Field(int column) => column < reader.FieldCount ? reader.GetString(column) : "";

    public override bool Is(int column, ReadOnlySpan<byte> text)
    {
        ReadOnlySpan<byte> field = column < reader.FieldCount ? reader.GetSpan(column) : [];
        return field[Ascii.Trim(field)].SequenceEqual(text);
    }

    public override string PlaceOf(int row, string column) => string.Create(CultureInfo.InvariantCulture, $"line {row}, column {column}");

    public override void Dispose() => reader.Dispose();

    private bool ReadRow()
    {
        try
        {
            while (reader.Read())
            {
                if (longComment is null || !reader.RawRecord.StartsWith(longComment))
                    return true;
            }
            return false;
        }
        catch (CsvFormatException fault)
        {
            throw new FeedException(
                FeedCodes.InvalidCsv,
                "A quotation mark is out of place, or a field runs over the end of its line.",
                $"line {form.SkipLines + fault.LineNumber}",
                "Put a field that holds the delimiter or a quotation mark in quotation marks, and double those inside.",
                fault);
        }
    }

    private List<string> ReadHeader()
    {
        if (!ReadRow())
            throw new FeedException(FeedCodes.EmptyBody, "The file has no rows.", "the whole file", "Hand in a file with a header and data.");
        var header = Enumerable.Range(0, reader.FieldCount).Select(column => reader.GetString(column).Trim()).ToList();
        if (header.Where(name => name.Length > 0).GroupBy(name => name).FirstOrDefault(group => group.Count() > 1) is { } twice)
            throw new FeedException(
                FeedCodes.DuplicateColumn,
                $"The header names \"{FailureDescription.Quoted(twice.Key)}\" twice, and nobody can say which is meant.",
                $"line {Line}",
                "Rename or remove one of the columns.");
        return header;
    }

    private static ReadOnlyMemory<byte> ToUtf8(string name, ReadOnlyMemory<byte> body)
    {
        var encoding = name switch
        {
            "iso-8859-1" => Encoding.Latin1,
            "windows-1252" => CodePagesEncodingProvider.Instance.GetEncoding(1252)!,
            _ => null,
        };
        if (encoding is not null)
            return Encoding.Convert(encoding, Encoding.UTF8, body.ToArray());
        Body.CheckUtf8(body.Span);
        return body;
    }

    private static ReadOnlyMemory<byte> WithoutFirstLines(ReadOnlyMemory<byte> text, int lines)
    {
        for (; lines > 0; lines--)
        {
            var end = text.Span.IndexOf((byte)'\n');
            text = end < 0 ? default : text[(end + 1)..];
        }
        return text;
    }
}
