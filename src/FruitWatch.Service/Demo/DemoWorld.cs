using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Demo.Cooperative;
using FruitWatch.Service.Demo.Weather;

namespace FruitWatch.Service.Demo;

/// <summary>What goes on around the service in a demo: the weather, its forecasts, what the beds really do and what the growers do.</summary>
internal sealed record DemoWorld(DemoScene Scene, DemoWeather Weather, DemoForecasts Forecasts, DemoTruth Truth, DemoWork Work)
{
    public static DemoWorld Of(DemoScene scene, BedCatalogue catalogue)
    {
        var weather = scene.Truth();
        return new DemoWorld(
            scene, weather, new DemoForecasts(weather, scene.Seed), new DemoTruth(catalogue, weather, scene), new DemoWork(weather, scene.Seed));
    }
}
