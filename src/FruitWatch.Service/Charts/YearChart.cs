using FruitWatch.Service.Text;

namespace FruitWatch.Service.Charts;

/// <summary>A picture of what is usual by the calendar, with a sentence that says what matters in it and a table of all that it shows.</summary>
/// <param name="key">Key within a page.</param>
/// <param name="words">The language.</param>
internal abstract class YearChart(string key, Words words)
{
    public const double Top = 20;
    private const double LabelHeight = 22;

    protected Words Words => words;

    public string Key => key;

    public abstract string Title { get; }

    /// <summary>What it is of, where a page has several: told to screen readers.</summary>
    public abstract string Subject { get; }

    public abstract string Description { get; }

    /// <summary>What its marks are: class of the mark, words.</summary>
    public abstract IReadOnlyList<(string Mark, string Meaning)> Legend { get; }

    public abstract IReadOnlyList<string> Columns { get; }

    /// <summary>Lines of the table, the head of each first.</summary>
    public abstract IEnumerable<IReadOnlyList<string>> Rows { get; }

    public abstract IReadOnlyList<ChartSize> Sizes { get; }

    protected abstract void Draw(Svg svg, ChartSize size);

    public string Draw(ChartSize size)
    {
        var svg = new Svg();
        var id = $"{Key}-{size.Name}";
        var height = Top + size.Height + LabelHeight;
        svg.Open(
            "svg",
            ("class", $"chart {size.Name}"),
            ("role", "img"),
            ("aria-labelledby", $"{id}-title {id}-desc"),
            ("viewBox", $"0 0 {Svg.Number(size.Width)} {Svg.Number(height)}"),
            ("width", size.Width),
            ("height", height));
        svg.Text("title", $"{Title}: {Subject}", ("id", $"{id}-title"));
        svg.Text("desc", Description, ("id", $"{id}-desc"));
        Draw(svg, size);
        return svg.Close("svg").ToString();
    }

    /// <summary>Lines across with their values at the left.</summary>
    protected static void DrawLines(Svg svg, ChartSize size, ValueAxis axis, Func<double, string> label)
    {
        foreach (var value in axis.Ticks())
        {
            var y = axis.Y(value);
            svg.Shape("line", ("class", "grid"), ("x1", ChartSize.Left), ("x2", Right(size)), ("y1", y), ("y2", y));
            svg.Text("text", label(value), ("class", "value"), ("x", ChartSize.Left - 5), ("y", y + 4));
        }
    }

    /// <summary>The line below, with the months in the middle of their days.</summary>
    protected void DrawMonths(Svg svg, ChartSize size)
    {
        var bottom = Top + size.Height;
        svg.Shape("line", ("class", "axis"), ("x1", ChartSize.Left), ("x2", Right(size)), ("y1", bottom), ("y2", bottom));
        var step = (int)Math.Ceiling(12.0 / size.DayLabels);
        for (var month = 1; month <= 12; month++)
        {
            var x = X(size, (month - 1) / 12.0);
            svg.Shape("line", ("class", "axis"), ("x1", x), ("x2", x), ("y1", bottom), ("y2", bottom + 4));
            if ((month - 1) % step == 0)
                svg.Text("text", words.SeasonShortMonth(month), ("class", "day"), ("x", X(size, (month - 0.5) / 12)), ("y", bottom + 17));
        }
    }

    /// <summary>Place of a part of the year. 0…1</summary>
    protected static double X(ChartSize size, double year) => ChartSize.Left + year * (Right(size) - ChartSize.Left);

    protected static double Right(ChartSize size) => size.Width - size.Right;
}
