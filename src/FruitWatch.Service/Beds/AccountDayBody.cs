using System.ComponentModel;
using FruitWatch.Model.Account;
using FruitWatch.Service.Weather;
using NodaTime;

namespace FruitWatch.Service.Beds;

/// <summary>One day of a bed's account as the API gives it.</summary>
[Description("One day of a bed's account, at the day's end.")]
internal sealed record AccountDayBody(
    [property: Description("The site's local day.")] LocalDate Date,
    [property: Description("Whether the day rests on a forecast.")] bool Forecast,
    [property: Description("Phase at the day's end.")] Phase Phase,
    [property: Description("How well the day suits pinning, 0 to 100.")] double Score,
    [property: Description("What holds the score down, or which trigger a ready bed waits for.")] LimitingFactor Limit,
    [property: Description("Spawn run, 0 to 1.")] double SpawnRun,
    [property: Description("Progress in the phase, 0 to 1; 0 in spawn run, ready and spent.")] double Progress,
    [property: Description("Flushes so far.")] int Flushes,
    [property: Description("What happened on the day.")] AccountEvent Event,
    [property: Description("Water in the layer, in mm (litres per m²).")] double WaterMm,
    [property: Description("0 at the practical lower limit, 1 at container capacity, above 1 when draining.")] double Moisture,
    [property: Description("Moisture at which to water, on the same scale.")] double WaterMark,
    [property: Description("Water over water and dry mass, 0 to 1.")] double WetBasis,
    [property: Description("Air-filled porosity, 0 to 1.")] double Air,
    [property: Description("Mean temperature of the bed, in °C.")] double BedC,
    [property: Description("Temperature of the soil below, in °C.")] double SoilC,
    [property: Description("Temperature where pins form, in °C.")] double PinZoneC,
    [property: Description("Lowest temperature at the bed's surface, in °C.")] double GroundMinC,
    [property: Description("Reference evapotranspiration, in mm/d.")] double Et0Mm,
    [property: Description("Rain that reached the bed, in mm.")] double RainMm,
    [property: Description("Water given, in mm (litres per m²).")] double GivenMm,
    [property: Description("Water that drained, in mm.")] double DrainedMm,
    [property: Description("Evaporation from the layer, in mm.")] double EvaporatedMm,
    [property: Description("Frosty nights counted toward the frost trigger.")] int FrostNights,
    [property: Description("Settled depth, in m.")] double DepthM,
    [property: Description("What the day's air temperatures rest on; forecast-past is a forecast of a day gone by, not a measurement. Null where unknown.")] SourceKind? TemperatureSource,
    [property: Description("Feed of the temperatures; null for what was filled in.")] long? TemperatureFeedId,
    [property: Description("What the day's rain rests on. Null where unknown.")] SourceKind? RainSource,
    [property: Description("Feed of the rain; null for the own gauge and for what was filled in.")] long? RainFeedId)
{
    public static AccountDayBody Of(AccountDay day, LocalDate today, DaySources from) => new(
        day.Date,
        day.Date >= today,
        day.Phase,
        day.Suitability,
        day.Limit,
        day.SpawnRun,
        day.Progress,
        day.Flushes,
        day.Event,
        day.Water,
        day.Moisture,
        day.WaterMark,
        day.WetBasis,
        day.Air,
        day.BedTemperature,
        day.SoilTemperature,
        day.PinZone,
        day.GroundMin,
        day.Et0,
        day.Rain,
        day.Given,
        day.Drained,
        day.Evaporated,
        day.FrostNights,
        day.Depth,
        from.Temperature?.Kind,
        from.Temperature?.FeedId,
        from.Rain?.Kind,
        from.Rain?.FeedId);
}
