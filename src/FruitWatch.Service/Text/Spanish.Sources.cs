using FruitWatch.Service.Weather;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string TemperatureUnknown => "sin dato de temperatura";

    public override string RainUnknown => "lluvia: sin dato";

    public override string SourcesTemperature => "Origen de las temperaturas";

    public override string SourcesRain => "Origen de la lluvia";

    public override string SourcesName(DaySource? source) => source switch
    {
        null => "–",
        { Kind: SourceKind.Gauge } => "pluviómetro propio",
        { Kind: SourceKind.Station } => SourcesNamed("estación", source),
        { Kind: SourceKind.Archive } => SourcesNamed("archivo", source),
        { Kind: SourceKind.ForecastPast } => SourcesNamed("pronóstico de ese día, sin medir", source),
        { Kind: SourceKind.Forecast } => SourcesNamed("pronóstico", source),
        _ => "completado",
    };

    public override string SourcesYesterday(DaySource? temperature, DaySource? rain) => (temperature, rain) switch
    {
        (null, null) => "El tiempo de ayer no se conoce.",
        ({ } one, { } other) when one == other => $"Tiempo de ayer: {SourcesName(one)}.",
        _ => $"Temperaturas de ayer: {SourcesName(temperature)}; lluvia: {SourcesName(rain)}.",
    };
}
