using FruitWatch.Model.Verification;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Charts;

/// <summary>
/// Chances that were said against how often pins followed, a point a tenth of chance with its number of forecasts; on the line where
/// both are the same. With a sentence and a table beside it, as all charts have.
/// </summary>
/// <param name="key">Key within a page.</param>
/// <param name="classes">Classes of chance.</param>
/// <param name="words">The language.</param>
internal sealed class ReliabilityChart(string key, IReadOnlyList<ReliabilityClass> classes, Words words)
{
    private const double Top = ChartFrame.Top + 14; // room for the name of the values and the topmost of them
    private const double Bottom = 42; // room for the labels below
    private const double SmallestPoint = 4;
    private const double LargestPoint = 11;

    public string Key => key;

    public string Title => words.VerificationChart;

    public string Description => words.VerificationChartSaid(
        classes.Sum(c => c.Cases),
        classes.Where(c => c.Cases > 0 && c.From > 0).OrderByDescending(c => c.Cases).Select(c => (ReliabilityClass?)c).FirstOrDefault());

    public IReadOnlyList<(string Mark, string Meaning)> Legend => [("as-said", words.VerificationAsSaid), ("came", words.VerificationCame)];

    public IReadOnlyList<string> Columns => [words.VerificationChance, words.VerificationFollowed, words.VerificationForecasts];

    public IEnumerable<IReadOnlyList<string>> Rows => classes.Select(c => (IReadOnlyList<string>)
    [
        $"{words.Percent(c.From)} – {words.Percent(c.To)}",
        c.Frequency is { } share ? words.Percent(share) : "–",
        words.Number(c.Cases),
    ]);

    /// <summary>The picture.</summary>
    public string Draw(ChartSize size)
    {
        var svg = new Svg();
        var id = $"{key}-{size.Name}";
        var (height, width) = (size.Height * 1.2, Math.Min(size.Width, size.Height * 1.9));
        var right = width - size.Right - LargestPoint;
        var axis = new ValueAxis(0, 1, Top, height);
        svg.Open(
            "svg",
            ("class", $"chart {size.Name}"),
            ("role", "img"),
            ("aria-labelledby", $"{id}-title {id}-desc"),
            ("viewBox", $"0 0 {Svg.Number(width)} {Svg.Number(Top + height + Bottom)}"),
            ("width", width),
            ("height", Top + height + Bottom));
        svg.Text("title", Title, ("id", $"{id}-title"));
        svg.Text("desc", Description, ("id", $"{id}-desc"));
        foreach (var tick in axis.Ticks())
        {
            svg.Shape("line", ("class", "grid"), ("x1", ChartSize.Left), ("x2", right), ("y1", axis.Y(tick)), ("y2", axis.Y(tick)));
            svg.Text("text", words.Percent(tick), ("class", "value"), ("x", ChartSize.Left - 5), ("y", axis.Y(tick) + 4));
            svg.Text("text", words.Percent(tick), ("class", "day"), ("x", X(tick)), ("y", Top + height + 17));
        }

        svg.Text("text", words.VerificationFollowed, ("class", "axis-name"), ("x", 2), ("y", 13));
        svg.Text("text", words.VerificationChance, ("class", "axis-name right"), ("x", right), ("y", Top + height + 35));
        svg.Shape("line", ("class", "axis"), ("x1", ChartSize.Left), ("x2", right), ("y1", axis.Y(0)), ("y2", axis.Y(0)));
        svg.Line("as-said", [(X(0), axis.Y(0)), (X(1), axis.Y(1))]);
        var most = classes.Max(c => c.Cases);
        foreach (var c in classes)
        {
            if (c is not { MeanChance: { } chance, Frequency: { } share })
                continue;
            // Area by number of forecasts, so that a few do not look like many.
            var radius = SmallestPoint + (LargestPoint - SmallestPoint) * Math.Sqrt((double)c.Cases / most);
            svg.Shape("circle", ("class", "came"), ("cx", X(chance)), ("cy", axis.Y(share)), ("r", radius));
            var below = axis.Y(share) - radius - 4 < Top;
            svg.Text(
                "text", words.Number(c.Cases), ("class", "day"), ("x", X(chance)), ("y", below ? axis.Y(share) + radius + 13 : axis.Y(share) - radius - 4));
        }

        return svg.Close("svg").ToString();

        double X(double chance) => ChartSize.Left + chance * (right - ChartSize.Left);
    }
}
