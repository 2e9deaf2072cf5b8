namespace FruitWatch.Store.Entities;

/// <summary>A bed is a grower's own. Its site is always among the sites they are told about.</summary>
public sealed class BedGrower
{
    /// <summary>The bed.</summary>
    public long BedId { get; set; }

    /// <summary>The grower.</summary>
    public long PersonId { get; set; }
}
