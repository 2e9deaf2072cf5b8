using FruitWatch.Model.Account;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Charts;

/// <summary>How much of what it can hold a bed holds, with the mark for watering, what it keeps after draining, and water given.</summary>
internal sealed class MoistureChart(IReadOnlyList<AccountDay> account, ChartDays days, Words words) : Chart(days, words)
{
    private readonly List<AccountDay> shown = [.. account.Where(day => days.Holds(day.Date))];

    public override string Key => "moisture";

    public override string Title => Words.MoistureChartTitle;

    public override string Description
    {
        get
        {
            if (shown.Count == 0)
                return Words.NothingToShow;
            var now = shown.FirstOrDefault(day => day.Date == Days.Today, shown[^1]);
            var driest = shown.MinBy(day => day.Moisture);
            return Words.MoistureSaid(now.Date, now.Moisture, now.WaterMark, driest.Moisture, driest.Date, shown[^1].Moisture, shown[^1].Date);
        }
    }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend =>
    [
        ("moisture", Words.MoistureOfBed),
        ("water-mark", Words.WaterMarkName),
        ("capacity", Words.CapacityName),
        .. shown.Any(day => day.Given > 0) ? new[] { ("given", Words.WaterGiven) } : [],
    ];

    public override IReadOnlyList<string> Columns => [Words.MoistureOfBed, Words.WaterMarkName, Words.ShareOfWater, Words.RainOnBed, Words.WaterGiven];

    public override IEnumerable<ChartRow> Rows => shown.Select(day => new ChartRow(
        day.Date,
        Days.IsForecast(day.Date),
        [
            Words.Percent(day.Moisture), Words.Percent(day.WaterMark), Words.Percent(day.WetBasis), Words.TableWaterDepth(day.Rain),
            Words.TableWaterDepth(day.Given),
        ]));

    protected override double HeightOf(ChartSize size) => ChartFrame.Top + size.Height;

    protected override void Draw(ChartFrame frame)
    {
        if (shown.Count == 0)
            return;
        var axis = new ValueAxis(0, Math.Max(1.05, shown.Max(day => day.Moisture)), ChartFrame.Top, frame.Size.Height);
        frame.DrawValues(axis, value => Words.Percent(value));
        frame.DrawMark("capacity", 1, Words.CapacityName, axis);
        frame.DrawLine("water-mark", shown, day => day.Date, day => day.WaterMark, axis);
        frame.DrawLine("moisture", shown, day => day.Date, day => day.Moisture, axis);
        foreach (var day in shown.Where(day => day.Given > 0))
        {
            var (x, y) = (frame.Axis.Middle(day.Date), axis.Y(0) - 3);
            frame.Svg.Shape("path", ("class", "given"), ("d", $"M{Svg.Number(x)} {Svg.Number(y - 12)}l5 10h-10z"));
        }
    }
}
