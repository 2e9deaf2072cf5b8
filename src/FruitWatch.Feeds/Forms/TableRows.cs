using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>A body as rows with named columns, read one after the other.</summary>
internal abstract class TableRows : IDisposable
{
    /// <summary>The number of the current row, for messages.</summary>
    public abstract int Row { get; }

    protected abstract IReadOnlyList<string> Names { get; }

    /// <summary>Where the names of the columns stand.</summary>
    protected abstract string NamesPlace { get; }

    public bool Has(string name) => Names.Contains(name);

    /// <summary>The place of a column in each row.</summary>
    /// <exception cref="FeedException">There is no such column.</exception>
    public int Column(string name, string what)
    {
        for (var at = 0; at < Names.Count; at++)
        {
            if (Names[at] == name)
                return at;
        }
        throw new FeedException(
            FeedCodes.Missing,
            $"{what} should be in the column \"{FailureDescription.Quoted(name)}\", which is not among: {FailureDescription.Quoted(string.Join(", ", Names))}.",
            NamesPlace,
            "Correct the column's name or the delimiter in the description, or add a header to the file.");
    }

    /// <summary>Goes on to the next row, if there is one.</summary>
    /// <exception cref="FeedException">The row is not shaped like the others.</exception>
    public abstract bool Next();

    /// <summary>A field of the current row.</summary>
    public abstract string Field(int column);

    /// <summary>Whether a field of the current row, without blanks around it, is this text.</summary>
    public abstract bool Is(int column, ReadOnlySpan<byte> text);

    public abstract string PlaceOf(int row, string column);

    public abstract void Dispose();

    /// <summary>Reads all rows into the cells of every series.</summary>
    /// <param name="input">The answer.</param>
    /// <param name="keepFromStart">Rows before the first day needed are passed over.</param>
    public FeedTable Cut(FeedInput input, bool keepFromStart)
    {
        var description = input.Description;
        var time = Column(description.Time.Locator.Column, "The time");
        var dayEnds = description.Time.DayEndsColumn is { } name ? Column(name, "The end of the day") : -1;
        var series = description.Series.SelectMany(one => RowSeries.Of(one, this)).ToList();
        var dates = new Mapping.StampReader(description.Time, input.Site.Zone);
        while (Next())
        {
            string? when = null;
            foreach (var one in series)
            {
                if (!one.IsMeant(this))
                    continue;
                when ??= Field(time);
                // Only to spare the memory of decades nobody asked for; a date that cannot be read is refused later, with its place.
                if (keepFromStart && dates.DateOf(when) < input.KeepFrom)
                    break;
                one.Take(this, when, dayEnds < 0 ? null : Field(dayEnds));
            }
        }
        return new FeedTable(null, [.. series.Select(one => one.Cells(this, description.Time.Locator.Column))]);
    }
}
