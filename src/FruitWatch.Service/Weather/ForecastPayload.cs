using System.Text.Json;
using System.Text.Json.Serialization;
using FruitWatch.Model.Weather;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace FruitWatch.Service.Weather;

/// <summary>A forecast as it is kept in one row: compact JSON.</summary>
/// <param name="Days">The single series; of an ensemble, the mean of its members.</param>
/// <param name="Members">The members of an ensemble, each as far as it goes; empty where there is none.</param>
internal sealed record ForecastPayload(IReadOnlyList<WeatherDay> Days, IReadOnlyList<IReadOnlyList<WeatherDay>> Members)
{
    private static readonly JsonSerializerOptions s_options = new JsonSerializerOptions
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
    }.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);

    public string Write() => Members.Count == 0
        ? JsonSerializer.Serialize(Days.Select(ToDay), s_options)
        : JsonSerializer.Serialize(new Kept([.. Days.Select(ToDay)], [.. Members.Select(member => member.Select(ToDay).ToArray())]), s_options);

    public static ForecastPayload Read(string payload)
    {
        // A forecast without members is kept as the array of its days.
        if (payload.StartsWith('['))
            return new ForecastPayload(ToWeather(JsonSerializer.Deserialize<Day[]>(payload, s_options)!), []);
        var kept = JsonSerializer.Deserialize<Kept>(payload, s_options)!;
        return new ForecastPayload(ToWeather(kept.Days), [.. kept.Members.Select(ToWeather)]);
    }

    private static Day ToDay(WeatherDay d) =>
        new(d.Date, d.Tmax, d.Tmin, d.Rain, d.Humidity, d.DewPoint, d.Wind, d.Radiation, d.FeedEvapotranspiration);

    private static IReadOnlyList<WeatherDay> ToWeather(Day[] days) =>
    [
        .. days.Select(d => new WeatherDay(d.Date, d.Tmax, d.Tmin, d.Rain)
        {
            Humidity = d.Humidity,
            DewPoint = d.DewPoint,
            Wind = d.Wind,
            Radiation = d.Radiation,
            FeedEvapotranspiration = d.Et0,
        }.From(Provenance.Forecast)),
    ];

    private sealed record Kept(Day[] Days, Day[][] Members);

    private sealed record Day(
        LocalDate Date, double? Tmax, double? Tmin, double? Rain, double? Humidity, double? DewPoint, double? Wind, double? Radiation, double? Et0);
}
