using System.Text.Json;
using System.Text.Json.Serialization;
using FruitWatch.Model.Weather;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace FruitWatch.Service.Weather;

/// <summary>Days of a forecast as they are kept in one row: compact JSON.</summary>
internal static class ForecastPayload
{
    private static readonly JsonSerializerOptions s_options = new JsonSerializerOptions
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
    }.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);

    public static string Write(IEnumerable<WeatherDay> days) => JsonSerializer.Serialize(
        days.Select(d => new Day(d.Date, d.Tmax, d.Tmin, d.Rain, d.Humidity, d.DewPoint, d.Wind, d.Radiation, d.FeedEvapotranspiration)), s_options);

    public static IReadOnlyList<WeatherDay> Read(string payload) =>
    [
        .. JsonSerializer.Deserialize<Day[]>(payload, s_options)!.Select(d => new WeatherDay(d.Date, d.Tmax, d.Tmin, d.Rain)
        {
            Humidity = d.Humidity,
            DewPoint = d.DewPoint,
            Wind = d.Wind,
            Radiation = d.Radiation,
            FeedEvapotranspiration = d.Et0,
        }.From(Provenance.Forecast)),
    ];

    private sealed record Day(
        LocalDate Date, double? Tmax, double? Tmin, double? Rain, double? Humidity, double? DewPoint, double? Wind, double? Radiation, double? Et0);
}
