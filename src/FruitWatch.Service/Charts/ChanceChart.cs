using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Charts;

/// <summary>Chance that pins, a harvest or want of water have come by each day. Lines differ by dashes and carry their names.</summary>
internal sealed class ChanceChart(OutlookReport report, ChartDays days, Words words) : Chart(days, words)
{
    private const double NameWidth = 84;
    private const double NameHeight = 15;

    private readonly List<(string Mark, OutlookEvent What, EventOutlook When)> lines =
    [
        .. report.Events.Where(e => e.What is OutlookEvent.Pins or OutlookEvent.Harvest or OutlookEvent.Dry)
            .Select(e => ($"chance-{e.What.ToString().ToLowerInvariant()}", e.What, e.When)),
    ];

    public override string Key => "chance-ahead";

    public override string Title => Words.OutlookChanceChart;

    public override string Description
    {
        get
        {
            var (soon, last) = (report.ComparedBy, report.Outlook.LastDay);
            return Words.OutlookChanceSaid(
                soon,
                At(OutlookEvent.Pins, soon),
                At(OutlookEvent.Harvest, soon),
                At(OutlookEvent.Dry, soon),
                last,
                At(OutlookEvent.Pins, last),
                At(OutlookEvent.Harvest, last),
                At(OutlookEvent.Dry, last));
        }
    }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend => [.. lines.Select(line => (line.Mark, Words.NameOf(line.What)))];

    public override IReadOnlyList<string> Columns => [.. lines.Select(line => Words.NameOf(line.What))];

    public override IEnumerable<ChartRow> Rows => Enumerable.Range(0, report.Outlook.Days).Select(i => report.Outlook.Today.PlusDays(i)).Select(date =>
        new ChartRow(date, Days.IsForecast(date), [.. lines.Select(line => At(line.What, date))]));

    protected override ChartSize Within(ChartSize size) => size with { Right = NameWidth };

    protected override double HeightOf(ChartSize size) => ChartFrame.Top + size.Height;

    protected override void Draw(ChartFrame frame)
    {
        var axis = new ValueAxis(0, 1, ChartFrame.Top, frame.Size.Height);
        frame.DrawValues(axis, value => Words.Percent(value));
        foreach (var line in lines)
            frame.DrawSteps(line.Mark, line.When.Today, [.. line.When.By.Select(k => Model.Futures.Chance.Of(k, line.When.Members))], axis);

        // Names stand at the ends of the lines, one below the other where lines end close together.
        var free = double.MinValue;
        var ends = lines.Select(line => (line, Y: axis.Y(Model.Futures.Chance.Of(line.When.Count, line.When.Members)) + 4)).OrderBy(end => end.Y).ToList();
        var lowest = axis.Y(0) + 4;
        for (var i = 0; i < ends.Count; i++)
        {
            var y = Math.Min(Math.Max(ends[i].Y, free), lowest - (ends.Count - 1 - i) * NameHeight);
            frame.Svg.Text("text", Words.NameOf(ends[i].line.What), ("class", $"line-name {ends[i].line.Mark}-name"), ("x", frame.RightEdge + 5), ("y", y));
            free = y + NameHeight;
        }
    }

    private string At(OutlookEvent what, LocalDate date)
    {
        var when = lines.Single(line => line.What == what).When;
        return Words.Chance(when.CountBy(date), when.Members);
    }
}
