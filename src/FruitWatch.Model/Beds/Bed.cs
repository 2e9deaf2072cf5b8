using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Beds;

/// <summary>A bed as it was made. What happened to it since is in its <see cref="LogEntry">log</see>.</summary>
/// <param name="Species">What was sown.</param>
/// <param name="Inoculated">Day the spawn went in.</param>
/// <param name="Layers">What it was filled with; at least one layer.</param>
public sealed record Bed(Species Species, LocalDate Inoculated, IReadOnlyList<Layer> Layers)
{
    /// <summary>Ground that it covers. [m²]; turns litres into mm.</summary>
    public double Area { get; init; } = 1;

    /// <summary>Share of open-sky radiation that the bed does not get. 0…1</summary>
    public double Shade { get; init; }

    /// <summary>Depth of loose mulch on top. [cm]</summary>
    public double MulchCm { get; init; }

    /// <summary>What the mulch is; null where there is none.</summary>
    public Material? Mulch { get; init; }

    /// <summary>Cover on the day of inoculation.</summary>
    public Cover Cover { get; init; }

    /// <summary>Water on the day of inoculation, as a share of container capacity. 0…</summary>
    public double Wetness { get; init; } = 1;

    /// <summary>Spawn used; null for the species' usual rate. [kg/m²]</summary>
    public double? SpawnRate { get; init; }

    /// <summary>Share of rain that comes through the trees above. 0…1</summary>
    public double Throughfall { get; init; } = 1;

    /// <summary>Above 1 where the ground gathers water from beside the bed.</summary>
    public double RunOn { get; init; } = 1;

    /// <summary>Warming by the sun in the open, over the air's daily mean. [°C], 0…3</summary>
    public double SunOffset { get; init; }

    /// <summary>Learned multiplier on evaporation; 1 until something was learned.</summary>
    public double EvaporationMultiplier { get; init; } = 1;

    /// <summary>Learned multiplier on the rates of growth; 1 until something was learned.</summary>
    public double GrowthMultiplier { get; init; } = 1;
}

/// <summary>A filling of a bed.</summary>
/// <param name="Material">What it is.</param>
/// <param name="Depth">Settled depth when laid. [m]</param>
/// <param name="Laid">Day it was laid.</param>
public sealed record Layer(Material Material, double Depth, LocalDate Laid);
