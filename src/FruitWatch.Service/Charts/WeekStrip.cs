using FruitWatch.Model.Season;
using FruitWatch.Service.Season;
using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Charts;

/// <summary>
/// The 52 weeks of the year to start a bed in: the chance of a pick by height, below it how long the first one is waited for. Weeks in which no past year brought one stand hollow,
/// weeks of which nothing is known are dotted, and the best ones carry a mark: nothing is told by colour alone.
/// </summary>
internal sealed class WeekStrip(SpeciesSeason season, LocalDate today, Words words) : YearChart($"weeks-{season.Species.Key}", words)
{
    private const double DaysOfYear = 365;

    private const double DaysOfMonth = DaysOfYear / 12;
    private const double ChanceHeight = 90;
    private const double Gap = 26;

    private static readonly ChartSize[] s_sizes = [new("wide", 600, 206, 12), new("narrow", 320, 206, 6)];

    private readonly List<ComingWeek> weeks = [.. season.Weeks.Select(week => ComingWeek.Of(week, today))];
    private readonly HashSet<int> best = [.. season.BestWeeks.Select(week => week.Number)];

    public override string Title => Words.SeasonStripTitle;

    public override string Subject => Words.NameOf(season.Species);

    public override string Description => season.Best is { } first
        ? Words.SeasonStripSaid(
            weeks[first.Number - 1].Start,
            first.Picked,
            first.Years,
            season.Weeks.Count(week => week.Years > 0 && week.Picked == week.Years),
            season.Weeks.Count(week => week.Years > 0 && week.Picked == 0),
            season.Weeks.Count(week => week.Years == 0))
        : Words.SeasonStripUnknown;

    public override IReadOnlyList<(string Mark, string Meaning)> Legend =>
    [
        ("week", Words.SeasonChance),
        .. season.Weeks.Any(week => week is { Years: > 0, Picked: 0 }) ? new[] { ("week none", Words.SeasonNoYearPicked) } : [],
        .. season.Weeks.Any(week => week.Years == 0) ? new[] { ("week unknown", Words.SeasonNotKnown) } : [],
        .. best.Count > 0 ? new[] { ("best", Words.SeasonBestWeeks), ("wait", Words.SeasonWait) } : [],
    ];

    public override IReadOnlyList<string> Columns =>
    [
        Words.SeasonStartColumn, Words.SeasonYearsColumn, Words.SeasonChance, Words.SeasonHalfBy, Words.SeasonWateringsColumn,
        Words.SeasonLitresColumn, Words.SeasonFailuresColumn,
    ];

    public override IEnumerable<IReadOnlyList<string>> Rows => weeks.Select(coming => Row(coming.Week, coming.Start));

    public override IReadOnlyList<ChartSize> Sizes => s_sizes;

    protected override void Draw(Svg svg, ChartSize size)
    {
        DrawChances(svg, size);
        DrawWaits(svg, size);
        DrawMonths(svg, size);
        DrawToday(svg, size);
    }

    private void DrawChances(Svg svg, ChartSize size)
    {
        var axis = new ValueAxis(0, 1, Top, ChanceHeight);
        DrawLines(svg, size, axis, Words.Percent);
        var slot = SlotOf(size);
        var width = slot * 0.74;
        foreach (var week in season.Weeks)
        {
            var left = MiddleOf(size, week) - width / 2;
            if (week.Chance is not { } chance)
            {
                svg.Shape("rect", ("class", "week unknown"), ("x", left), ("y", axis.Y(0) - 3), ("width", width), ("height", 3));
                continue;
            }

            var top = axis.Y(chance);
            svg.Shape(
                "rect", ("class", week.Picked > 0 ? "week" : "week none"), ("x", left), ("y", top), ("width", width), ("height", axis.Y(0) - top));
            if (best.Contains(week.Number))
                svg.Shape("path", ("class", "best"), ("d", $"M{Svg.Number(left + width / 2 - 4)} {Svg.Number(top - 9)}h8l-4 7z"));
        }
    }

    /// <summary>How long the first pick is waited for, where half of the years had one.</summary>
    private void DrawWaits(Svg svg, ChartSize size)
    {
        var top = Top + ChanceHeight + Gap;
        const double runMonths = SeasonPlanner.RunDays / DaysOfMonth;
        var most = season.Weeks.Max(week => week.FirstPickDays.P90 ?? week.FirstPickDays.P50 ?? 0) / DaysOfMonth;
        var axis = new ValueAxis(0, Math.Clamp(most, 4, runMonths), top, size.Height - ChanceHeight - Gap);
        DrawLines(svg, size, axis, months => Words.Number(months));
        foreach (var week in season.Weeks)
        {
            if (week.FirstPickDays is not { P10: { } early, P50: { } half } wait)
                continue;
            var x = MiddleOf(size, week);
            // Open to the top where one year in ten had none at all.
            var late = wait.P90 is { } days ? axis.Y(days / DaysOfMonth) : top;
            svg.Shape("line", ("class", "wait"), ("x1", x), ("x2", x), ("y1", axis.Y(early / DaysOfMonth)), ("y2", late));
            svg.Shape("circle", ("class", "wait"), ("cx", x), ("cy", axis.Y(half / DaysOfMonth)), ("r", SlotOf(size) * 0.3));
        }
    }

    private static double SlotOf(ChartSize size) => (X(size, 1) - X(size, 0)) * 7 / DaysOfYear;

    private static double MiddleOf(ChartSize size, StartWeek week) => X(size, (week.Number - 0.5) * 7 / DaysOfYear);

    private void DrawToday(Svg svg, ChartSize size)
    {
        var x = X(size, (today.DayOfYear - 1) / (DaysOfYear + 1));
        svg.Shape("line", ("class", "today"), ("x1", x), ("x2", x), ("y1", Top - 6), ("y2", Top + size.Height));
        var left = x > size.Width / 2;
        svg.Text("text", Words.SeasonThisWeek, ("class", left ? "ahead-label left" : "ahead-label"), ("x", left ? x - 4 : x + 4), ("y", Top - 8));
    }

    private List<string> Row(StartWeek week, LocalDate start) => week.Years == 0
        ? [Words.ShortDate(start), Words.SeasonNotKnown, "–", "–", "–", "–", "–"]
        :
        [
            Words.ShortDate(start),
            Words.SeasonKOfN(week.Picked, week.Years),
            Words.Percent(week.Chance!.Value),
            week.FirstPickFrom(start.Year).P50 is { } half ? Words.DateWithYear(half, half.PlusYears(1)) : "–",
            Words.Number(week.Waterings.P50!.Value),
            Words.Number(Words.PerArea(week.Litres.P50!.Value), Words.Units == FruitWatch.Store.Entities.Units.Metric ? 0 : 1),
            week.Failures.Count == 0 ? "–" : string.Join("; ", week.Failures.OrderByDescending(f => f.Value).Select(f => $"{Words.Number(f.Value)} × {Words.NameOf(f.Key)}")),
        ];
}
