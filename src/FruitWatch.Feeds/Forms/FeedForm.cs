using System.Text.Json;
using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Mapping;
using NodaTime;

namespace FruitWatch.Feeds.Forms;

/// <summary>
/// The form an answer comes in. A form knows where the cells of each series are; what a cell means is the same for all
/// forms. A new form is one class here and one line in <see cref="Kinds"/>.
/// </summary>
/// <param name="Kind">Its name in descriptions.</param>
/// <param name="Locators">How its fields are found.</param>
internal abstract record FeedForm(string Kind, LocatorKind Locators)
{
    private static readonly Dictionary<string, Func<DescriptionPlace, FeedForm>> Kinds = new()
    {
        ["columns"] = ColumnsForm.Read,
        ["records"] = RecordsForm.Read,
        ["intervals"] = RecordsForm.ReadIntervals,
        ["csv"] = CsvForm.Read,
        ["dly"] = DlyForm.Read,
    };

    public static FeedForm? From(DescriptionPlace? place)
    {
        if (place is null || place.Text("kind") is not { } kind)
        {
            if (place is not null && place.Member("kind") is null)
                place.Refuse("kind", "This member is missing.", $"Write one of: {string.Join(", ", Kinds.Keys)}.");
            return null;
        }
        if (Kinds.TryGetValue(kind, out var read))
            return read(place);
        place.Refuse("kind", $"There is no format \"{FailureDescription.Quoted(kind)}\".", $"Use one of: {string.Join(", ", Kinds.Keys)}.");
        return null;
    }

    /// <summary>A series may have a list of records of its own.</summary>
    public virtual bool HasRecords => false;

    /// <summary>Times may be stretches with a start and an end.</summary>
    public virtual bool HasIntervals => false;

    /// <summary>The names of the columns, where the form itself fixes them.</summary>
    public virtual IReadOnlyList<string>? FixedColumns => null;

    /// <summary>The sign between whole and tenths in its numbers.</summary>
    public virtual char DecimalSign => '.';

    /// <summary>Checks what the form needs from the request.</summary>
    public virtual void Check(DescriptionPlace place, RequestDescription request)
    {
    }

    /// <summary>Checks what the form needs from the times.</summary>
    public virtual void CheckTime(DescriptionPlace place, TimeDescription time)
    {
    }

    /// <summary>Writes the members of its description but <c>kind</c>.</summary>
    public virtual void Write(Utf8JsonWriter json)
    {
    }

    /// <summary>Finds the cells of every series.</summary>
    /// <exception cref="FeedException">The body is not of this form, or lacks something.</exception>
    public abstract FeedTable Cut(FeedInput input);
}

/// <summary>An answer on its way to be read.</summary>
/// <param name="Description">How the feed answers.</param>
/// <param name="Body">The answer, unpacked.</param>
/// <param name="Site">The place; its zone cuts the days.</param>
/// <param name="KeepFrom">Days before this one are not needed.</param>
/// <param name="ReceivedAt">When the answer came.</param>
/// <param name="Notes">Where oddities go.</param>
internal sealed record FeedInput(
    FeedDescription Description, ReadOnlyMemory<byte> Body, FeedSite Site, LocalDate KeepFrom, Instant ReceivedAt, NoteBook Notes);

/// <summary>The cells of an answer, series by series.</summary>
/// <param name="Zone">The zone the answer itself names, where the description points at one.</param>
/// <param name="Series">Those that are there.</param>
internal sealed record FeedTable(DateTimeZone? Zone, IReadOnlyList<SeriesCells> Series);

/// <summary>The cells of one series, or of one member of it, in the order of the answer.</summary>
internal sealed record SeriesCells(
    SeriesDescription Series,
    string? Member,
    Unit Unit,
    IReadOnlyList<FeedCell> Cells,
    Func<FeedCell, string> ValuePlace,
    Func<FeedCell, string> TimePlace)
{
    /// <summary>The answer itself says what the unit is.</summary>
    public bool UnitIsDeclared { get; init; }

    public string About => Member is null ? Series.Name : $"{Series.Name} of member {Member}";
}

/// <summary>One value as text, with the text of its time.</summary>
/// <param name="Time">As written.</param>
/// <param name="Text">As written; null where the feed has none.</param>
/// <param name="Flagged">The feed's own marks call the value bad.</param>
/// <param name="DayEnds">When the day of the value ended, where the row says so.</param>
/// <param name="Row">The element or line it came from, for messages.</param>
internal readonly record struct FeedCell(string? Time, string? Text, bool Flagged, string? DayEnds, int Row)
{
    /// <summary>What is to be added to the time, as written.</summary>
    public string? Plus { get; init; }

    /// <summary>The texts of the series' alternatives, in their order.</summary>
    public IReadOnlyList<string?>? Choices { get; init; }

    /// <summary>Which of the alternatives was taken.</summary>
    public int Choice { get; init; }
}
