using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A bed as it was made, and what was learned of it. What happened to it is in its log.</summary>
public sealed class Bed : IEdited, INamed
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Where it lies.</summary>
    public long SiteId { get; set; }

    /// <summary>What its growers call it.</summary>
    public required string Name { get; set; }

    /// <summary>Species, by its key in the catalogue.</summary>
    public required string SpeciesKey { get; set; }

    /// <summary>Ground that it covers. [m²]</summary>
    public double Area { get; set; }

    /// <summary>Day the spawn went in; the site's local day.</summary>
    public LocalDate InoculatedOn { get; set; }

    /// <summary>Share of the sun kept off. 0…1</summary>
    public double Shade { get; set; }

    /// <summary>Depth of the mulch. [cm], 0 where there is none</summary>
    public double MulchCm { get; set; }

    /// <summary>What the mulch is, by its key in the catalogue; null where there is none.</summary>
    public string? MulchMaterialKey { get; set; }

    /// <summary>Cover on the day of inoculation.</summary>
    public Cover Cover { get; set; }

    /// <summary>Water on the day of inoculation, as a share of container capacity. 0…</summary>
    public double Wetness { get; set; } = 1;

    /// <summary>Spawn used; null for the species' usual rate. [kg/m²]</summary>
    public double? SpawnRate { get; set; }

    /// <summary>Share of rain that comes through the trees above. 0…1</summary>
    public double Throughfall { get; set; } = 1;

    /// <summary>Above 1 where the ground gathers water from beside the bed.</summary>
    public double RunOn { get; set; } = 1;

    /// <summary>Warming by the sun in the open, over the air's daily mean. [°C], 0…3</summary>
    public double SunOffset { get; set; }

    /// <summary>Learned multiplier on evaporation; 1 until something was learned.</summary>
    public double EvaporationMultiplier { get; set; } = 1;

    /// <summary>Learned multiplier on the rates of growth; 1 until something was learned.</summary>
    public double GrowthMultiplier { get; set; } = 1;

    /// <summary>Day from which it is no longer watched; null while it is.</summary>
    public LocalDate? RetiredOn { get; set; }

    /// <inheritdoc/>
    public int Renamings { get; set; }

    /// <inheritdoc/>
    public Instant? RenamedAt { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;

    /// <summary>What it was filled with, where asked for in the query.</summary>
    public List<BedLayer> Layers { get; } = [];
}
