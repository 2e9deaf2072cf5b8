using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Mapping;

/// <summary>One value on the UTC time line.</summary>
/// <param name="Start">From when the value holds; for a reading of a moment, that moment.</param>
/// <param name="End">Until when; later than <paramref name="Start"/> except for a lone reading.</param>
/// <param name="Value">In °C, mm or %.</param>
/// <param name="Source">What the value is of.</param>
/// <param name="Cell">The cell it was read from.</param>
internal sealed record Slot(Instant Start, Instant End, double Value, SeriesCells Source, FeedCell Cell)
{
    /// <summary>For the rise of a counter, the cell of the reading before.</summary>
    public FeedCell? Before { get; init; }

    public SeriesDescription Series => Source.Series;

    public Duration Length => End - Start;

    /// <summary>The place it was read from, for messages.</summary>
    public string Place() => Source.ValuePlace(Cell);

    /// <summary>What the answer had, as written.</summary>
    public IEnumerable<RawValue> Raw()
    {
        if (Before is { } before)
            yield return RawOf(before);
        yield return RawOf(Cell);
    }

    private RawValue RawOf(FeedCell cell) =>
        new(cell.Text ?? "", Source.Unit.Code, cell.Time ?? "", Source.ValuePlace(cell)) { Scale = Series.Scale };
}
