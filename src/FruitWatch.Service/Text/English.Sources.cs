using FruitWatch.Service.Weather;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string TemperatureUnknown => "no temperature told";

    public override string RainUnknown => "rain unknown";

    public override string SourcesTemperature => "Temperatures from";

    public override string SourcesRain => "Rain from";

    public override string SourcesName(DaySource? source) => source switch
    {
        null => "–",
        { Kind: SourceKind.Gauge } => "own gauge",
        { Kind: SourceKind.Station } => SourcesNamed("station", source),
        { Kind: SourceKind.Archive } => SourcesNamed("archive", source),
        { Kind: SourceKind.ForecastPast } => SourcesNamed("forecast of that day, not measured", source),
        { Kind: SourceKind.Forecast } => SourcesNamed("forecast", source),
        _ => "filled in",
    };

    public override string SourcesYesterday(DaySource? temperature, DaySource? rain) => (temperature, rain) switch
    {
        (null, null) => "Yesterday's weather is not known.",
        ({ } one, { } other) when one == other => $"Yesterday's weather: {SourcesName(one)}.",
        _ => $"Yesterday's temperatures: {SourcesName(temperature)}; rain: {SourcesName(rain)}.",
    };
}
