using System.Globalization;
using System.Reflection;
using FruitWatch.Model.Weather;
using NodaTime.Text;

namespace FruitWatch.Service.Demo.Weather;

/// <summary>
/// Real daily weather: Seattle 2012–2015 (NOAA, public domain; see seattle-daily.md). Valley and coast have it as it was measured,
/// the hillside 6.5 °C per km of height colder (ICAO standard atmosphere).
/// </summary>
internal static class SeattleDays
{
    private const double ColderPerMetre = 0.0065;

    public static IReadOnlyDictionary<DemoPlace, IReadOnlyList<WeatherDay>> Days()
    {
        var measured = Read();
        return DemoPlace.All.ToDictionary(
            place => place,
            IReadOnlyList<WeatherDay> (place) => place == DemoPlace.Hillside
                ? [.. measured.Select(day => Raised(day, DemoPlace.Hillside.Elevation - DemoPlace.Valley.Elevation))]
                : measured);
    }

    private static WeatherDay Raised(WeatherDay day, double metres) => day with
    {
        Tmax = InventedRegion.Tenths(day.Tmax!.Value - ColderPerMetre * metres),
        Tmin = InventedRegion.Tenths(day.Tmin!.Value - ColderPerMetre * metres),
    };

    private static List<WeatherDay> Read()
    {
        using var file = new StreamReader(Assembly.GetExecutingAssembly().GetManifestResourceStream("demo/seattle-daily.csv")!);
        file.ReadLine();
        var days = new List<WeatherDay>();
        while (file.ReadLine() is { } line)
        {
            var cells = line.Split(',');
            days.Add(new WeatherDay(LocalDatePattern.Iso.Parse(cells[0]).Value, Number(cells[1]), Number(cells[2]), Number(cells[3])));
        }

        return days;
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
}
