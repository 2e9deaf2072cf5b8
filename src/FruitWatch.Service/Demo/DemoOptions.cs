using System.Globalization;
using FruitWatch.Service.Operating;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Demo;

/// <summary>How a demo is started.</summary>
/// <param name="DataFolder">Where everything of it is kept.</param>
internal sealed record DemoOptions(string DataFolder)
{
    /// <summary>Of the pages, on this machine only.</summary>
    public int Port { get; init; } = 5080;

    /// <summary>Which weather; null for invented, or for what the folder holds.</summary>
    public DemoWeatherKind? Weather { get; init; }

    /// <summary>Of everything that is left to chance; null for the usual one, or for what the folder holds.</summary>
    public long? Seed { get; init; }

    /// <summary>First morning; null for the usual one.</summary>
    public LocalDate? Start { get; init; }

    /// <summary>Names of the options, for the command line.</summary>
    public static readonly string[] Known = ["data", "port", "weather", "seed", "start"];

    /// <exception cref="VerbException">A value cannot be read.</exception>
    public static DemoOptions Of(VerbOptions options) => new(options.Optional("data") ?? "demo-data")
    {
        Port = options.Optional("port") is { } port ? Whole("port", port, 1, 65535) : 5080,
        Weather = options.Optional("weather") is { } weather ? WeatherOf(weather) : null,
        Seed = options.Optional("seed") is { } seed ? Whole("seed", seed, 0, int.MaxValue) : null,
        Start = options.Optional("start") is { } start ? Date("start", start) : null,
    };

    private static int Whole(string name, string text, int low, int high) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high
            ? value
            : throw new VerbException(FormattableString.Invariant($"--{name} {text}: expected a whole number from {low} to {high}."));

    private static LocalDate Date(string name, string text) => LocalDatePattern.Iso.Parse(text) is { Success: true } parsed
        ? parsed.Value
        : throw new VerbException($"--{name} {text}: expected a date such as 2026-10-05.");

    private static DemoWeatherKind WeatherOf(string text) => text switch
    {
        "invented" => DemoWeatherKind.Invented,
        "seattle" => DemoWeatherKind.Seattle,
        _ => throw new VerbException($"--weather {text}: expected invented or seattle."),
    };
}
