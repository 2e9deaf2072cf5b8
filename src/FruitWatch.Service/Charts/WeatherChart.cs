using FruitWatch.Model.Weather;
using FruitWatch.Service.Text;
using FruitWatch.Service.Weather;
using NodaTime;

namespace FruitWatch.Service.Charts;

/// <summary>Highest and lowest temperature of the air, and rain below them.</summary>
internal sealed class WeatherChart(IReadOnlyList<WeatherDay> weather, Func<LocalDate, DaySources> sources, ChartDays days, Words words)
    : Chart(days, words)
{
    private const double Gap = 20;
    private readonly List<WeatherDay> shown = [.. weather.Where(day => days.Holds(day.Date))];

    public override string Key => "weather";

    public override string Title => Words.WeatherChartTitle;

    public override string Description
    {
        get
        {
            var past = shown.Where(day => !Days.IsForecast(day.Date)).ToList();
            var ahead = shown.Where(day => Days.IsForecast(day.Date)).ToList();
            return string.Join(' ', new[] { Said(past, Words.WeatherWas), Said(ahead, Words.WeatherToCome) }.Where(part => part.Length > 0));
        }
    }

    public override IReadOnlyList<(string Mark, string Meaning)> Legend =>
        [("tmax", Words.HighestTemperature), ("tmin", Words.LowestTemperature), ("rain", Words.RainLegend)];

    public override IReadOnlyList<string> Columns =>
        [Words.HighestTemperature, Words.LowestTemperature, Words.RainLegend, Words.SourcesTemperature, Words.SourcesRain];

    public override IEnumerable<ChartRow> Rows => shown.Select(day =>
    {
        var from = sources(day.Date);
        return new ChartRow(
            day.Date,
            Days.IsForecast(day.Date),
            [
                Words.TableTemperature(day.Tmax),
                Words.TableTemperature(day.Tmin),
                Words.TableWaterDepth(day.Rain),
                Words.SourcesName(from.Temperature),
                Words.SourcesName(from.Rain),
            ]);
    });

    protected override double HeightOf(ChartSize size) => ChartFrame.Top + size.Height * 1.15;

    protected override void Draw(ChartFrame frame)
    {
        var height = frame.Size.Height * 1.15 - Gap;
        var warm = height * 0.62;
        if (shown.Count == 0)
            return;
        var temperatures = new ValueAxis(Words.DegreesOf(shown.Min(day => day.Tmin) ?? 0), Words.DegreesOf(shown.Max(day => day.Tmax) ?? 1), ChartFrame.Top, warm);
        frame.DrawValues(temperatures, value => $"{Words.Number(value)}°");
        frame.DrawLine("tmax", shown, day => day.Date, day => day.Tmax is { } tmax ? Words.DegreesOf(tmax) : null, temperatures);
        frame.DrawLine("tmin", shown, day => day.Date, day => day.Tmin is { } tmin ? Words.DegreesOf(tmin) : null, temperatures);

        var rain = new ValueAxis(0, Words.RainOf(Math.Max(shown.Max(day => day.Rain) ?? 0, 5)), ChartFrame.Top + warm + Gap, height - warm);
        frame.DrawValues(rain, value => Words.Number(value, 2));
        var width = Math.Max(frame.Axis.Day * 0.7, 0.8);
        foreach (var day in shown.Where(day => day.Rain > 0))
        {
            var top = rain.Y(Words.RainOf(day.Rain!.Value));
            frame.Svg.Shape(
                "rect",
                ("class", "rain"),
                ("x", frame.Axis.Middle(day.Date) - width / 2),
                ("y", top),
                ("width", width),
                ("height", Math.Max(rain.Y(0) - top, 0.5)));
        }
    }

    private static string Said(List<WeatherDay> part, Func<int, double, double, double, string> say) => part.Count == 0
        ? ""
        : say(part.Count, part.Min(day => day.Tmin) ?? 0, part.Max(day => day.Tmax) ?? 0, part.Sum(day => day.Rain ?? 0));
}
