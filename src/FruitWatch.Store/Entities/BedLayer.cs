using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A filling of a bed, laid when the bed was made. Later fillings are log entries.</summary>
public sealed class BedLayer
{
    /// <summary>Key; layers of one bed lie in the order of their keys, the lowest first.</summary>
    public long Id { get; set; }

    /// <summary>The bed.</summary>
    public long BedId { get; set; }

    /// <summary>What it is, by its key in the catalogue.</summary>
    public required string MaterialKey { get; set; }

    /// <summary>Settled depth when laid. [m]</summary>
    public double Depth { get; set; }

    /// <summary>Day it was laid.</summary>
    public LocalDate LaidOn { get; set; }
}
