using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace FruitWatch.Service.Demo;

/// <summary>Opens a demo's folder: goes on with the demo in it, or begins one in an empty folder.</summary>
internal static class DemoStart
{
    /// <exception cref="VerbException">The folder holds something else than the demo that is asked for.</exception>
    public static async Task<(DemoWorld World, LocalDate Today)> OpenAsync(DemoOptions options, StoreFactory stores, CancellationToken stop)
    {
        await StoreMigration.PrepareAsync(stores, Clocks.System, NullLogger.Instance, stop);
        await using var store = stores.CreateDbContext();
        if (await DemoProgress.ReadAsync(store, stop) is { } kept)
        {
            RefuseOther(options, kept);
            return (DemoWorld.Of(kept.Scene, BedCatalogue.BuiltIn), kept.Today);
        }

        if (await store.Cooperatives.AnyAsync(stop))
            throw new VerbException($"{options.DataFolder} holds a cooperative that is no demo, and is left alone. Name another folder with --data.");

        var scene = new DemoScene(options.Weather ?? DemoWeatherKind.Invented, options.Seed ?? DemoScene.UsualSeed);
        var world = DemoWorld.Of(scene, BedCatalogue.BuiltIn);
        var start = options.Start is { } wanted ? DemoScene.Checked(wanted, world.Weather) : scene.UsualStart(world.Weather, world.Forecasts);
        await new DemoSeeding(world, start).RunAsync(store, stop);
        return (world, start);
    }

    private static void RefuseOther(DemoOptions options, DemoProgress kept)
    {
        string? other = options.Weather is { } weather && weather != kept.Scene.Weather ? "--weather"
            : options.Seed is { } seed && seed != kept.Scene.Seed ? "--seed"
            : options.Start is not null ? "--start"
            : null;
        if (other is null)
            return;
        throw new VerbException(FormattableString.Invariant(
            $"{other}: {options.DataFolder} holds a demo that has begun ({kept.Scene.Weather} weather, seed {kept.Scene.Seed}, now {kept.Today:uuuu-MM-dd}). Leave {other} away to go on with it, or name another folder with --data."));
    }
}
