using FruitWatch.Model.Weather;
using FruitWatch.Service.Demo.Cooperative;
using FruitWatch.Service.Demo.Weather;
using FruitWatch.Service.Operating;
using NodaTime;

namespace FruitWatch.Service.Demo;

/// <summary>Which demo it is: kept beside its data, so that it goes on as it began.</summary>
/// <param name="Weather">Invented or real.</param>
/// <param name="Seed">Of everything that is left to chance.</param>
internal sealed record DemoScene(DemoWeatherKind Weather, long Seed)
{
    public const long UsualSeed = 1;

    /// <summary>Nights so cold at the ground set the demo's blewits off.</summary>
    private const double FrostAtGround = -1;

    /// <summary>Credit that the pages show beside the weather.</summary>
    public string Attribution => Weather == DemoWeatherKind.Seattle
        ? "Daily weather of Seattle 2012–2015: NOAA, public domain; forecasts invented"
        : "Invented weather of the demo";

    /// <summary>Where a site lies: real weather is that of its own latitude.</summary>
    public (double Latitude, double Longitude) PositionOf(DemoSite site) => Weather == DemoWeatherKind.Seattle
        ? (site.Latitude + 3.9, site.Longitude + 0.9)
        : (site.Latitude, site.Longitude);

    /// <summary>The truth.</summary>
    public DemoWeather Truth() => Weather == DemoWeatherKind.Seattle ? DemoWeather.Seattle() : DemoWeather.Invented(Seed);

    /// <summary>The usual first morning: autumn, with the valley's first frost a few nights ahead.</summary>
    public LocalDate UsualStart(DemoWeather weather, DemoForecasts forecasts)
    {
        var from = new LocalDate(Weather == DemoWeatherKind.Seattle ? 2013 : 2026, 9, 25);
        for (var day = from; day < from.PlusDays(60); day = day.PlusDays(1))
        {
            if (forecasts.Issue(DemoPlace.Valley, day).Skip(2).Take(2).Any(ahead => IsFrost(ahead) && IsFrost(weather.On(DemoPlace.Valley, ahead.Date))))
                return day;
        }

        return from.PlusDays(25);
    }

    /// <summary>A morning that somebody asked for.</summary>
    /// <exception cref="VerbException">There is no weather for it.</exception>
    public static LocalDate Checked(LocalDate start, DemoWeather weather)
    {
        var first = weather.First.PlusDays(OldestBed + 60);
        var last = weather.Last.PlusDays(-100);
        return start >= first && start <= last
            ? start
            : throw new VerbException(FormattableString.Invariant($"--start {start:uuuu-MM-dd}: this weather allows {first:uuuu-MM-dd} to {last:uuuu-MM-dd}."));
    }

    private static int OldestBed => DemoBed.All.Max(bed => bed.Age);

    private static bool IsFrost(WeatherDay day) => day.Tmin - (day.Tmax - day.Tmin >= 10 ? 3 : 1) <= FrostAtGround;
}

/// <summary>Where the demo's weather comes from.</summary>
internal enum DemoWeatherKind
{
    /// <summary>Invented.</summary>
    Invented,

    /// <summary>Measured in Seattle.</summary>
    Seattle,
}
