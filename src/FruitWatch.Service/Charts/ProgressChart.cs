using FruitWatch.Model.Account;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using NodaTime;

namespace FruitWatch.Service.Charts;

/// <summary>Spawn run and the day's score, and below them the phases of the bed's life, with its flushes.</summary>
internal sealed class ProgressChart(IReadOnlyList<AccountDay> account, ChartDays days, Words words) : Chart(days, words)
{
    private const double Gap = 16;
    private const double StripHeight = 26;
    private readonly List<AccountDay> shown = [.. account.Where(day => days.Holds(day.Date))];

    public override string Key => "progress";

    public override string Title => Words.ProgressChartTitle;

    public override string Description
    {
        get
        {
            if (shown.Count == 0)
                return Words.NothingToShow;
            var now = shown.FirstOrDefault(day => day.Date == Days.Today, shown[^1]);
            var best = shown.MaxBy(day => day.Suitability);
            return Words.ProgressSaid(now.Date, now.SpawnRun, now.Phase, now.Suitability, best.Suitability, best.Date, now.Flushes);
        }
    }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend =>
    [
        ("score", Words.ScoreTitle),
        ("spawn-run", Words.NameOf(Phase.SpawnRun)),
        .. Stretches().Select(stretch => stretch.Phase).Distinct().Order()
            .Select(phase => ($"phase {ApiJson.WordOf(phase)}", Words.PhaseInStrip(phase))),
    ];

    public override IReadOnlyList<string> Columns => [Words.PhaseTitle, Words.NameOf(Phase.SpawnRun), Words.ScoreTitle, Words.Happened];

    public override IEnumerable<ChartRow> Rows => shown.Select(day => new ChartRow(
        day.Date,
        Days.IsForecast(day.Date),
        [Words.NameOf(day.Phase), Words.Percent(day.SpawnRun), Words.Number(day.Suitability), Words.NameOf(day.Event)]));

    protected override double HeightOf(ChartSize size) => ChartFrame.Top + size.Height * 0.8 + Gap + StripHeight;

    protected override void Draw(ChartFrame frame)
    {
        var axis = new ValueAxis(0, 100, ChartFrame.Top, frame.Size.Height * 0.8);
        frame.DrawValues(axis, value => Words.Number(value));
        frame.DrawLine("score", shown, day => day.Date, day => day.Suitability, axis);
        frame.DrawLine("spawn-run", shown, day => day.Date, day => 100 * day.SpawnRun, axis);

        var top = ChartFrame.Top + frame.Size.Height * 0.8 + Gap;
        foreach (var (phase, from, to) in Stretches())
        {
            var (left, right) = (frame.Axis.Edge(from), frame.Axis.Edge(to) + frame.Axis.Day);
            frame.Svg.Shape("rect", ("class", $"phase {ApiJson.WordOf(phase)}"), ("x", left), ("y", top), ("width", right - left), ("height", StripHeight - 2));
            var name = Words.NameOf(phase);
            // Where it fits; the legend and the table name it in any case.
            if (right - left > name.Length * 7 + 6)
                frame.Svg.Text("text", name, ("class", "phase-label"), ("x", (left + right) / 2), ("y", top + StripHeight / 2 + 3));
        }

        foreach (var day in shown.Where(day => day.Event == AccountEvent.Harvest))
        {
            var x = frame.Axis.Middle(day.Date);
            frame.Svg.Shape("path", ("class", "flush"), ("d", $"M{Svg.Number(x)} {Svg.Number(top - 13)}l6 6l-6 6l-6 -6z"));
        }
    }

    private IEnumerable<(Phase Phase, LocalDate From, LocalDate To)> Stretches()
    {
        var start = 0;
        for (var i = 1; i <= shown.Count; i++)
        {
            if (i < shown.Count && shown[i].Phase == shown[start].Phase)
                continue;
            yield return (shown[start].Phase, shown[start].Date, shown[i - 1].Date);
            start = i;
        }
    }
}
