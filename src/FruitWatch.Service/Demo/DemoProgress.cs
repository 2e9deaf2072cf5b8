using System.Globalization;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Demo;

/// <summary>How far a demo has come, kept among the store's settings so that a restart goes on from there.</summary>
/// <param name="Scene">Which demo it is.</param>
/// <param name="Today">Its day.</param>
internal sealed record DemoProgress(DemoScene Scene, LocalDate Today)
{
    private const string WeatherKey = "demo.weather";
    private const string SeedKey = "demo.seed";
    private const string DayKey = "demo.day";

    /// <summary>What the store keeps; null where it holds no demo.</summary>
    public static async Task<DemoProgress?> ReadAsync(FruitWatchStore store, CancellationToken stop)
    {
        var kept = await store.Settings.AsNoTracking().Where(s => s.Key.StartsWith("demo.")).ToDictionaryAsync(s => s.Key, s => s.Value, stop);
        if (!kept.TryGetValue(DayKey, out var day))
            return null;
        var scene = new DemoScene(Enum.Parse<DemoWeatherKind>(kept[WeatherKey]), long.Parse(kept[SeedKey], CultureInfo.InvariantCulture));
        return new DemoProgress(scene, LocalDatePattern.Iso.Parse(day).Value);
    }

    /// <summary>Puts it among what is saved next.</summary>
    public void AddTo(FruitWatchStore store) => store.Settings.AddRange(
        new Setting { Key = WeatherKey, Value = Scene.Weather.ToString() },
        new Setting { Key = SeedKey, Value = Scene.Seed.ToString(CultureInfo.InvariantCulture) },
        new Setting { Key = DayKey, Value = LocalDatePattern.Iso.Format(Today) });

    /// <summary>Puts a later day among what is saved next.</summary>
    public static async Task MoveToAsync(FruitWatchStore store, LocalDate day, CancellationToken stop)
    {
        var kept = await store.Settings.SingleAsync(s => s.Key == DayKey, stop);
        kept.Value = LocalDatePattern.Iso.Format(day);
    }
}
