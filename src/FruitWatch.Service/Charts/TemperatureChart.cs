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
            Words.TableTemperature(day.BedTemperature), Words.TableTemperature(day.SoilTemperature), Words.TableTemperature(day.PinZone),
            Words.TableTemperature(day.GroundMin),
        ]));

    protected override double HeightOf(ChartSize size) => ChartFrame.Top + size.Height;

    protected override void Draw(ChartFrame frame)
    {
        if (shown.Count == 0)
            return;
        var values = shown.SelectMany(day => new[] { day.BedTemperature, day.SoilTemperature, day.PinZone }.Select(Words.DegreesOf)).ToList();
        var axis = new ValueAxis(Math.Min(values.Min(), Words.DegreesOf(band.FullFrom)), Math.Max(values.Max(), Words.DegreesOf(band.FullTo)), ChartFrame.Top, frame.Size.Height);
        frame.DrawBand("band edge", Words.DegreesOf(band.ZeroBelow), Words.DegreesOf(band.ZeroAbove), axis);
        frame.DrawBand("band", Words.DegreesOf(band.FullFrom), Words.DegreesOf(band.FullTo), axis);
        frame.DrawValues(axis, value => $"{Words.Number(value)}°");
        frame.DrawLine("soil", shown, day => day.Date, day => Words.DegreesOf(day.SoilTemperature), axis);
        frame.DrawLine("pin-zone", shown, day => day.Date, day => Words.DegreesOf(day.PinZone), axis);
        frame.DrawLine("bed", shown, day => day.Date, day => Words.DegreesOf(day.BedTemperature), axis);
    }
}
