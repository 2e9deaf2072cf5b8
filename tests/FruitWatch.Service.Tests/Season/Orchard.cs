using FruitWatch.Model.Weather;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using NodaTime;

namespace FruitWatch.Service.Tests.Season;

/// <summary>An invented site without beds whose weather was written down for years.</summary>
internal static class Orchard
{
    /// <summary>Weeks before June have four past years that reach 500 days on, later ones three.</summary>
    public static readonly LocalDate First = new(2022, 1, 1);

    public static readonly LocalDate Yesterday = InventedCooperative.Today.PlusDays(-1);

    /// <summary>Makes the site. Its key.</summary>
    public static async Task<long> AddAsync(FruitWatchStore store, InventedCooperative invented, LocalDate? first = null)
    {
        var site = new Site
        {
            CooperativeId = store.Cooperatives.Single().Id,
            Name = "Orchard Bank",
            Latitude = 43.2,
            Longitude = -3.1,
            Elevation = 90,
            ZoneId = "Europe/Madrid",
            ForecastFeedId = invented.Feed,
        };
        store.Sites.Add(site);
        await store.SaveChangesAsync();
        var from = first ?? First;
        var days = Enumerable.Range(0, Period.DaysBetween(from, Yesterday) + 1).Select(i => DayOf(from.PlusDays(i))).ToList();
        await KeepAsync(store, invented, site.Id, days);
        return site.Id;
    }

    /// <summary>What the station told of some days.</summary>
    public static Task KeepAsync(FruitWatchStore store, InventedCooperative invented, long site, IReadOnlyList<WeatherDay> days) =>
        store.MergeWeatherAsync(site, invented.Feed, days, InventedCooperative.Now, InventedCooperative.Now);

    /// <summary>A mild climate with frost in some Januaries; every year has its own spells.</summary>
    public static WeatherDay DayOf(LocalDate date)
    {
        var i = Period.DaysBetween(new LocalDate(2000, 1, 1), date);
        var mean = 12 - 8 * Math.Cos(2 * Math.PI * (i - 20) / 365.25) + 3 * Math.Sin(i / 3.1) + 1.5 * Math.Sin(i / 97.0);
        var rain = Math.Max(0, 9 * Math.Sin(i * 2.3 + i / 50.0) - 4);
        return new WeatherDay(date, Math.Round(mean + 5 - rain / 4, 1), Math.Round(mean - 5 + rain / 4, 1), Math.Round(rain, 1));
    }
}
