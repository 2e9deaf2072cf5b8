namespace FruitWatch.Store.Entities;

/// <summary>Growers who share sites, people and feeds. Nothing of one cooperative is shown to another.</summary>
public sealed class Cooperative : IEdited
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>What its members call it.</summary>
    public required string Name { get; set; }

    /// <summary>Growers may read the beds of the others; what they may change is their own in any case.</summary>
    public bool GrowersReadAll { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;
}
