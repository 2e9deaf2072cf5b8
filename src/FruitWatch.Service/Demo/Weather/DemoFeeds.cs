using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Demo.Cooperative;
using NodaTime;

namespace FruitWatch.Service.Demo.Weather;

/// <summary>
/// The demo's weather as files that the service reads like any that a user hands in: what a station measured, day by day, and a
/// forecast.
/// </summary>
internal sealed class DemoFeeds(DemoWeather weather, DemoForecasts forecasts, string folder)
{
    /// <summary>A file, not a page: the degree sign can stand as it is.</summary>
    private static readonly JsonSerializerOptions s_json = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes what there is to read in the morning of a day: past days through yesterday, the forecast from today on.</summary>
    public async Task WriteAsync(LocalDate today, CancellationToken stop)
    {
        Directory.CreateDirectory(folder);
        foreach (var site in DemoSite.All)
        {
            await ReplaceAsync(Path.Combine(folder, site.HistoryKey + ".csv"), Station(weather.Through(site.Place, today.PlusDays(-1))), stop);
            await ReplaceAsync(Path.Combine(folder, site.ForecastKey + ".json"), Forecast(forecasts.Issue(site.Place, today)), stop);
        }
    }

    private static string Station(IEnumerable<WeatherDay> days)
    {
        var text = new StringBuilder("date,tmax_c,tmin_c,rain_mm,humidity_percent\n");
        foreach (var day in days)
            text.Append(CultureInfo.InvariantCulture, $"{day.Date:uuuu-MM-dd},{day.Tmax},{day.Tmin},{day.Rain},{day.Humidity}\n");
        return text.ToString();
    }

    private static string Forecast(IReadOnlyList<WeatherDay> days) => JsonSerializer.Serialize(Answer(days), s_json);

    private static object Answer(IReadOnlyList<WeatherDay> days) => new
    {
        units = new { tmax = "°C", tmin = "°C", rain = "mm", humidity = "%" },
        daily = new
        {
            date = days.Select(day => day.Date.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture)),
            tmax = days.Select(day => day.Tmax),
            tmin = days.Select(day => day.Tmin),
            rain = days.Select(day => day.Rain),
            humidity = days.Select(day => day.Humidity),
        },
    };

    /// <summary>Written beside and moved over, so that a reader never sees half a file.</summary>
    private static async Task ReplaceAsync(string file, string text, CancellationToken stop)
    {
        var fresh = file + ".new";
        await File.WriteAllTextAsync(fresh, text, stop);
        File.Move(fresh, file, overwrite: true);
    }
}
