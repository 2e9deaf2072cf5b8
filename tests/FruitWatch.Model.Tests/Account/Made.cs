using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

/// <summary>Beds and weather made for a test.</summary>
internal static class Made
{
    public static readonly LocalDate Day0 = new(2025, 4, 10);

    /// <summary>Takes evaporation as the day says, so that a test can say it.</summary>
    public static readonly EvaporationLadder AsGiven = new(47) { TrustFeed = true };

    public static BedCatalogue Catalogue => BedCatalogue.BuiltIn;

    /// <summary>Chips that neither settle nor rot, so that a store in mm stays what it is.</summary>
    public static Material Chips { get; } = Catalogue.Materials["hardwood-chips"] with { Settling = 0, Decay = 0 };

    public static Bed Bed(string species = "wine-cap", double depth = 0.15, Material? material = null) =>
        new(Catalogue.Species[species], Day0, [new Layer(material ?? Chips, depth, Day0)]);

    public static WeatherDay Weather(LocalDate date, double mean = 15, double range = 8, double rain = 0, double et0 = 0) =>
        new(date, mean + range / 2, mean - range / 2, rain) { FeedEvapotranspiration = et0, Humidity = 80 };

    public static List<WeatherDay> Same(int days, double mean = 15, double range = 8, double rain = 0, double et0 = 0) =>
        [.. Enumerable.Range(0, days).Select(i => Weather(Day0.PlusDays(i), mean, range, rain, et0))];

    public static BedAccount Run(Bed bed, IReadOnlyList<WeatherDay> weather, params IEnumerable<LogEntry> log) => BedAccount.Run(
        bed, log, SiteForcing.Of(weather, AsGiven), Catalogue, weather[^1].Date);
}
