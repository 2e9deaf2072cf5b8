using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Charts;

/// <summary>Temperatures in the bed, below it and where pins form, with the temperatures at which the species pins.</summary>
internal sealed class TemperatureChart(IReadOnlyList<AccountDay> account, Band band, ChartDays days, Words words) : Chart(days, words)
{
    private readonly List<AccountDay> shown = [.. account.Where(day => days.Holds(day.Date))];

    public override string Key => "temperature";

    public override string Title => Words.TemperatureChartTitle;

    public override string Description
    {
        get
        {
            if (shown.Count == 0)
                return Words.NothingToShow;
            var now = shown.FirstOrDefault(day => day.Date == Days.Today, shown[^1]);
            return Words.TemperatureSaid(
                now.Date, now.BedTemperature, now.SoilTemperature, now.PinZone, shown.Min(day => day.BedTemperature), shown.Max(day => day.BedTemperature), band);
        }
    }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend =>
        [("bed", Words.InTheBed), ("soil", Words.InTheSoil), ("pin-zone", Words.WherePinsForm), ("band", Words.PinningBand(band))];

    public override IReadOnlyList<string> Columns => [Words.InTheBed, Words.InTheSoil, Words.WherePinsForm, Words.AtTheGround];

    public override IEnumerable<ChartRow> Rows => shown.Select(day => new ChartRow(
        day.Date,
        Days.IsForecast(day.Date),
        [
            Words.TableCelsius(day.BedTemperature), Words.TableCelsius(day.SoilTemperature), Words.TableCelsius(day.PinZone),
            Words.TableCelsius(day.GroundMin),
        ]));

    protected override double HeightOf(ChartSize size) => ChartFrame.Top + size.Height;

    protected override void Draw(ChartFrame frame)
    {
        if (shown.Count == 0)
            return;
        var values = shown.SelectMany(day => new[] { day.BedTemperature, day.SoilTemperature, day.PinZone }).ToList();
        var axis = new ValueAxis(Math.Min(values.Min(), band.FullFrom), Math.Max(values.Max(), band.FullTo), ChartFrame.Top, frame.Size.Height);
        frame.DrawBand("band edge", band.ZeroBelow, band.ZeroAbove, axis);
        frame.DrawBand("band", band.FullFrom, band.FullTo, axis);
        frame.DrawValues(axis, value => Words.Degrees(value));
        frame.DrawLine("soil", shown, day => day.Date, day => day.SoilTemperature, axis);
        frame.DrawLine("pin-zone", shown, day => day.Date, day => day.PinZone, axis);
        frame.DrawLine("bed", shown, day => day.Date, day => day.BedTemperature, axis);
    }
}
