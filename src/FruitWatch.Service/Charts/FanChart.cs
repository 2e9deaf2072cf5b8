using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Charts;

/// <summary>The middle 80 % of the futures by day as a fan, with the middle one as a line.</summary>
/// <param name="fan">By day.</param>
/// <param name="days">From today on.</param>
/// <param name="words">The language.</param>
internal abstract class FanChart(Fan fan, ChartDays days, Words words) : Chart(days, words)
{
    protected Fan Fan => fan;

    /// <summary>The day that the description speaks of: the last of a week, or of the outlook.</summary>
    protected int Spoken { get; } = Math.Min(7, fan.Middle.Count) - 1;

    /// <summary>Class of the fan and of its middle line.</summary>
    protected abstract string Mark { get; }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend => [(Mark, Words.OutlookMiddle), ($"fan {Mark}-fan", Words.OutlookRange)];

    public override IReadOnlyList<string> Columns => [Words.OutlookLow, Words.OutlookMiddle, Words.OutlookHigh];

    public override IEnumerable<ChartRow> Rows => Enumerable.Range(0, fan.Middle.Count).Select(i => (i, Date: Days.From.PlusDays(i)))
        .Select(day => new ChartRow(day.Date, Days.IsForecast(day.Date), [Cell(fan.Low[day.i]), Cell(fan.Middle[day.i]), Cell(fan.High[day.i])]));

    protected abstract string Cell(double value);

    /// <summary>The axis label of a value.</summary>
    protected abstract string Label(double value);

    protected abstract ValueAxis AxisOf(double height);

    /// <summary>A value as a number of the unit that the axis is in.</summary>
    protected virtual double OnAxis(double value) => value;

    /// <summary>What lies over the fan.</summary>
    protected virtual void DrawMarks(ChartFrame frame, ValueAxis axis)
    {
    }

    protected override double HeightOf(ChartSize size) => ChartFrame.Top + size.Height;

    protected override void Draw(ChartFrame frame)
    {
        var axis = AxisOf(frame.Size.Height);
        frame.DrawValues(axis, Label);
        frame.DrawArea($"fan {Mark}-fan", Days.From, [.. fan.Low.Select(OnAxis)], [.. fan.High.Select(OnAxis)], axis);
        frame.DrawLine(Mark, Enumerable.Range(0, fan.Middle.Count), i => Days.From.PlusDays(i), i => OnAxis(fan.Middle[i]), axis);
        DrawMarks(frame, axis);
    }
}

/// <summary>Moisture of a bed left alone.</summary>
internal sealed class MoistureFanChart(Fan fan, double waterMark, ChartDays days, Words words) : FanChart(fan, days, words)
{
    public override string Key => "moisture-ahead";

    public override string Title => Words.OutlookMoistureChart;

    public override string Description
    {
        get
        {
            var i = Spoken;
            var least = Fan.Middle.Min();
            var leastOn = Fan.Middle.TakeWhile(value => value > least).Count();
            return Words.OutlookMoistureSaid(
                Days.From.PlusDays(i), Fan.Low[i], Fan.Middle[i], Fan.High[i], waterMark, least, Days.From.PlusDays(leastOn));
        }
    }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend => [.. base.Legend, ("water-mark", Words.WaterMarkName)];

    protected override string Mark => "moisture";

    protected override string Cell(double value) => Words.Percent(value);

    protected override string Label(double value) => Words.Percent(value);

    protected override ValueAxis AxisOf(double height) => new(0, Math.Max(1.05, Fan.High.Max()), ChartFrame.Top, height);

    protected override void DrawMarks(ChartFrame frame, ValueAxis axis) => frame.DrawMark("water-mark", waterMark, Words.WaterMarkName, axis, right: true);
}

/// <summary>Mean temperature of a bed.</summary>
internal sealed class TemperatureFanChart(Fan fan, ChartDays days, Words words) : FanChart(fan, days, words)
{
    public override string Key => "temperature-ahead";

    public override string Title => Words.OutlookTemperatureChart;

    public override string Description
    {
        get
        {
            var i = Spoken;
            return Words.OutlookTemperatureSaid(Days.From.PlusDays(i), Fan.Low[i], Fan.Middle[i], Fan.High[i], Fan.Middle.Min(), Fan.Middle.Max());
        }
    }

    protected override string Mark => "bed";

    protected override string Cell(double value) => Words.TableTemperature(value);

    protected override string Label(double value) => $"{Words.Number(value)}°";

    protected override double OnAxis(double value) => Words.DegreesOf(value);

    protected override ValueAxis AxisOf(double height) => new(OnAxis(Fan.Low.Min()), OnAxis(Fan.High.Max()), ChartFrame.Top, height);
}
