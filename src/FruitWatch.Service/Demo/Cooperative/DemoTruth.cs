using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Demo.Weather;
using FruitWatch.Service.Log;
using FruitWatch.Store.Queries;
using NodaTime;

namespace FruitWatch.Service.Demo.Cooperative;

/// <summary>
/// What the demo's beds really do. Each has its own water loss and pace of growth, which the service is not told and may learn from
/// the log.
/// </summary>
internal sealed class DemoTruth(BedCatalogue catalogue, DemoWeather weather, DemoScene scene)
{
    private const long Stream = 201;

    private readonly Dictionary<DemoSite, SiteForcing> forcings = DemoSite.All.ToDictionary(
        site => site,
        site => SiteForcing.Of(weather.Of(site.Place), new EvaporationLadder(scene.PositionOf(site).Latitude, site.Place.Elevation, site.Coastal)));

    /// <summary>A bed's true account through a day; null before its inoculation.</summary>
    public BedAccount? Account(DemoSite site, BedData data, LocalDate until)
    {
        if (until < data.Bed.InoculatedOn)
            return null;
        var chance = Chance.Of(scene.Seed, Stream, data.Bed.Id);
        var bed = BedReading.ToModel(data.Bed, catalogue) with
        {
            EvaporationMultiplier = 1 + 0.12 * Math.Clamp(chance.Normal(), -2, 2),
            GrowthMultiplier = 1 + 0.1 * Math.Clamp(chance.Normal(), -2, 2),
        };

        // What was felt in the hand changes what is known, not what is.
        var log = BedReading.Log(
            data with { Log = [.. data.Log.Where(row => row.Kind is not (LogKinds.Squeeze or LogKinds.Moisture))] }, catalogue);
        return BedAccount.Run(bed, log, forcings[site], catalogue, until);
    }
}
