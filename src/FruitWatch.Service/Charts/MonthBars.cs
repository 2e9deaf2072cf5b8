using FruitWatch.Model.Season;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Charts;

/// <summary>In which months pins formed, over all weeks of starting and all past years.</summary>
internal sealed class MonthBars(SpeciesSeason season, Words words) : YearChart($"months-{season.Species.Key}", words)
{
    private const double MostOf = 0.75;

    private static readonly ChartSize[] s_sizes = [new("small", 320, 110, 6)];

    private readonly double all = season.PinsByMonth.Sum();

    public override string Title => Words.SeasonMonthsTitle;

    public override string Subject => Words.NameOf(season.Species);

    /// <summary>The fewest months that hold three quarters of all pins.</summary>
    public override string Description
    {
        get
        {
            if (all == 0)
                return Words.SeasonNoPins;
            var sum = 0;
            var months = new List<int>();
            foreach (var month in Enumerable.Range(1, 12).OrderByDescending(month => season.PinsByMonth[month - 1]))
            {
                if (sum >= MostOf * all)
                    break;
                months.Add(month);
                sum += season.PinsByMonth[month - 1];
            }

            return Words.SeasonMonthsSaid([.. months.Order().Select(Words.SeasonMonth)], sum / all);
        }
    }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend => [];

    public override IReadOnlyList<string> Columns => [Words.SeasonMonthColumn, Words.SeasonPinsColumn];

    public override IEnumerable<IReadOnlyList<string>> Rows =>
        Enumerable.Range(1, 12).Select(month => (IReadOnlyList<string>)[Words.SeasonMonth(month), Words.Percent(ShareOf(month))]);

    public override IReadOnlyList<ChartSize> Sizes => s_sizes;

    protected override void Draw(Svg svg, ChartSize size)
    {
        var axis = new ValueAxis(0, Math.Max(0.1, Enumerable.Range(1, 12).Max(ShareOf)), Top, size.Height);
        DrawLines(svg, size, axis, Words.Percent);
        var slot = (X(size, 1) - X(size, 0)) / 12;
        for (var month = 1; month <= 12; month++)
        {
            var top = axis.Y(ShareOf(month));
            svg.Shape(
                "rect", ("class", "pins"), ("x", X(size, (month - 1) / 12.0) + slot * 0.15), ("y", top), ("width", slot * 0.7), ("height", axis.Y(0) - top));
        }

        DrawMonths(svg, size);
    }

    private double ShareOf(int month) => all == 0 ? 0 : season.PinsByMonth[month - 1] / all;
}
