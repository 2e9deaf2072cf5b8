using NodaTime;

namespace FruitWatch.Model.Account;

/// <summary>One day of a bed's account, at the day's end.</summary>
public readonly record struct AccountDay
{
    /// <summary>The site's local day.</summary>
    public LocalDate Date { get; init; }

    /// <summary>Reference evapotranspiration. [mm/d]</summary>
    public double Et0 { get; init; }

    /// <summary>Water in the layer. [mm]</summary>
    public double Water { get; init; }

    /// <summary>Water in the mulch. [mm]</summary>
    public double MulchWater { get; init; }

    /// <summary>Relative moisture: 0 at the practical lower limit, 1 at container capacity, above 1 when draining.</summary>
    public double Moisture { get; init; }

    /// <summary>Moisture, wet basis: water over water and dry mass. 0…1</summary>
    public double WetBasis { get; init; }

    /// <summary>Air-filled porosity. [m³/m³]</summary>
    public double Air { get; init; }

    /// <summary>Mean temperature of the bed. [°C]</summary>
    public double BedTemperature { get; init; }

    /// <summary>Temperature of the soil below. [°C]</summary>
    public double SoilTemperature { get; init; }

    /// <summary>Temperature where pins form. [°C]</summary>
    public double PinZone { get; init; }

    /// <summary>Lowest temperature at the bed's surface. [°C]</summary>
    public double GroundMin { get; init; }

    /// <summary>Moisture factor g. 0…1</summary>
    public double MoistureFactor { get; init; }

    /// <summary>Temperature factor of pinning. 0…1</summary>
    public double PinFactor { get; init; }

    /// <summary>Temperature factor of growing. 0…1</summary>
    public double GrowFactor { get; init; }

    /// <summary>Mean relative humidity of the air. [%]</summary>
    public double Humidity { get; init; }

    /// <summary>Humidity factor. 0.1…1</summary>
    public double HumidityFactor { get; init; }

    /// <summary>The day's score: how well the day suits pinning. 0…100</summary>
    public double Suitability => 100 * PinFactor * MoistureFactor * HumidityFactor;

    /// <summary>What holds the score down, or which trigger a ready bed waits for.</summary>
    public LimitingFactor Limit { get; init; }

    /// <summary>Spawn run. 0…1</summary>
    public double SpawnRun { get; init; }

    /// <summary>Phase at the day's end.</summary>
    public Phase Phase { get; init; }

    /// <summary>Progress in the phase; 0 in spawn run, ready and spent. 0…1</summary>
    public double Progress { get; init; }

    /// <summary>Flushes so far.</summary>
    public int Flushes { get; init; }

    /// <summary>What happened.</summary>
    public AccountEvent Event { get; init; }

    /// <summary>Frosty nights counted toward the frost trigger; 0 for species without one.</summary>
    public int FrostNights { get; init; }

    /// <summary>Settled depth. [m]</summary>
    public double Depth { get; init; }

    /// <summary>Rain that reached the bed through cover and trees. [mm]</summary>
    public double Rain { get; init; }

    /// <summary>Rain that the mulch kept. [mm]</summary>
    public double RainToMulch { get; init; }

    /// <summary>Rain and given water that reached the layer. [mm]</summary>
    public double Inflow { get; init; }

    /// <summary>Water given. [mm]</summary>
    public double Given { get; init; }

    /// <summary>Water that ran through without being absorbed. [mm]</summary>
    public double PassedThrough { get; init; }

    /// <summary>Water that drained from above container capacity. [mm]</summary>
    public double Drained { get; init; }

    /// <summary>Evaporation from the mulch. [mm]</summary>
    public double EvaporatedFromMulch { get; init; }

    /// <summary>Evaporation from the layer. [mm]</summary>
    public double Evaporated { get; init; }

    /// <summary>Water of fresh material, less what shrinking pressed out. [mm]</summary>
    public double Filling { get; init; }

    /// <summary>Water that a squeeze test or a measured moisture added or took. [mm]</summary>
    public double Corrected { get; init; }

    /// <summary>Depth of water between the lower limit and container capacity. [mm]</summary>
    public double AvailableStore { get; init; }

    /// <summary>Relative moisture at which a grower should water this filling.</summary>
    public double WaterMark { get; init; }
}
