using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Charts;

/// <summary>What the charts have in common: days below, values at the left, today, and the forecast set off by hatching.</summary>
internal sealed class ChartFrame(Svg svg, string id, ChartSize size, ChartDays days, Words words, double bottom)
{
    public const double Top = 18;
    private const double DayLabelHeight = 22;

    public Svg Svg => svg;

    public ChartSize Size => size;

    public DayAxis Axis { get; } = new(days.From, days.To, size);

    /// <summary>Height of the whole picture. [px]</summary>
    public double Height => bottom + DayLabelHeight;

    public double RightEdge => size.Width - size.Right;

    /// <summary>The hatching of the forecast, under everything.</summary>
    public void DrawBack()
    {
        if (days.To < days.Today)
            return;
        var from = Axis.Edge(LocalDate.Max(days.Today, days.From));
        var to = days.PastYearsFrom is { } past ? Axis.Edge(past) : RightEdge;
        if (to <= from)
            return;
        svg.Open("defs").Open("pattern", ("id", $"{id}-hatch"), ("width", 6), ("height", 6), ("patternUnits", "userSpaceOnUse"), ("patternTransform", "rotate(45)"))
            .Shape("rect", ("class", "hatch"), ("width", 2), ("height", 6)).Close("pattern").Close("defs");
        svg.Shape("rect", ("class", "ahead"), ("x", from), ("y", Top), ("width", to - from), ("height", bottom - Top));
        svg.Shape("rect", ("fill", $"url(#{id}-hatch)"), ("x", from), ("y", Top), ("width", to - from), ("height", bottom - Top));
    }

    /// <summary>Days, and where the forecast begins.</summary>
    public void DrawFront()
    {
        svg.Shape("line", ("class", "axis"), ("x1", ChartSize.Left), ("x2", RightEdge), ("y1", bottom), ("y2", bottom));
        foreach (var date in Axis.Labelled())
        {
            var x = Axis.Middle(date);
            svg.Shape("line", ("class", "axis"), ("x1", x), ("x2", x), ("y1", bottom), ("y2", bottom + 4));
            // The last label would run out of the picture.
            if (x < RightEdge - 16)
                svg.Text("text", words.AxisDay(date, Axis.Days), ("class", "day"), ("x", Math.Max(x, ChartSize.Left + 8)), ("y", bottom + 17));
        }

        DrawPastYears();
        if (!days.Holds(days.Today) || days.PastYearsFrom <= days.Today)
            return;
        var today = Axis.Edge(days.Today);
        svg.Shape("line", ("class", "today"), ("x1", today), ("x2", today), ("y1", Top - 4), ("y2", bottom));
        var left = today > size.Width / 2;
        svg.Text("text", words.ForecastFromHere, ("class", left ? "ahead-label left" : "ahead-label"), ("x", left ? RightEdge : today), ("y", Top - 6));
    }

    /// <summary>Where past years take over from the forecast.</summary>
    private void DrawPastYears()
    {
        if (days.PastYearsFrom is not { } from)
            return;
        var x = Axis.Edge(from);
        svg.Shape("line", ("class", "past-years"), ("x1", x), ("x2", x), ("y1", Top - 4), ("y2", bottom));
        svg.Text("text", words.OutlookPastYears, ("class", "ahead-label left"), ("x", RightEdge), ("y", Top - 6));
    }

    /// <summary>Lines across with their values at the left.</summary>
    public void DrawValues(ValueAxis axis, Func<double, string> label)
    {
        foreach (var value in axis.Ticks())
        {
            var y = axis.Y(value);
            svg.Shape("line", ("class", "grid"), ("x1", ChartSize.Left), ("x2", RightEdge), ("y1", y), ("y2", y));
            svg.Text("text", label(value), ("class", "value"), ("x", ChartSize.Left - 5), ("y", y + 4));
        }
    }

    /// <summary>A line of one value a day.</summary>
    public void DrawLine<T>(string classes, IEnumerable<T> items, Func<T, LocalDate> date, Func<T, double?> value, ValueAxis axis) => svg.Line(
        classes,
        items.Where(item => Axis.Holds(date(item)))
            .Select(item => value(item) is { } known ? ((double, double)?)(Axis.Middle(date(item)), axis.Y(known)) : null));

    /// <summary>A line of steps: each value holds over the whole of its day.</summary>
    public void DrawSteps(string classes, LocalDate first, IReadOnlyList<double> values, ValueAxis axis) => svg.Line(
        classes,
        values.SelectMany((value, i) =>
        {
            var (left, y) = (Axis.Edge(first.PlusDays(i)), axis.Y(value));
            return new (double, double)?[] { (left, y), (left + Axis.Day, y) };
        }));

    /// <summary>The area between two lines.</summary>
    public void DrawArea(string classes, LocalDate first, IReadOnlyList<double> low, IReadOnlyList<double> high, ValueAxis axis)
    {
        var corners = high.Select((value, i) => (i, value)).Concat(low.Select((value, i) => (i, value)).Reverse())
            .Select(corner => $"{Svg.Number(Axis.Middle(first.PlusDays(corner.i)))} {Svg.Number(axis.Y(corner.value))}");
        svg.Shape("path", ("class", classes), ("d", $"M{string.Join('L', corners)}Z"));
    }

    /// <summary>A strip between two values, over the whole width.</summary>
    public void DrawBand(string classes, double low, double high, ValueAxis axis)
    {
        var (from, to) = (axis.Y(Math.Min(high, axis.High)), axis.Y(Math.Max(low, axis.Low)));
        if (to > from)
            svg.Shape("rect", ("class", classes), ("x", ChartSize.Left), ("y", from), ("width", RightEdge - ChartSize.Left), ("height", to - from));
    }

    /// <summary>A mark across at one value, with its name at the left or at the right.</summary>
    public void DrawMark(string classes, double value, string name, ValueAxis axis, bool right = false)
    {
        if (value < axis.Low || value > axis.High)
            return;
        var y = axis.Y(value);
        svg.Shape("line", ("class", classes), ("x1", ChartSize.Left), ("x2", RightEdge), ("y1", y), ("y2", y));
        svg.Text("text", name, ("class", right ? "mark-label right" : "mark-label"), ("x", right ? RightEdge - 4 : ChartSize.Left + 4), ("y", y - 4));
    }
}
