namespace FruitWatch.Store.Entities;

/// <summary>A value that the service keeps for itself.</summary>
public sealed class Setting
{
    /// <summary>Name.</summary>
    public required string Key { get; set; }

    /// <summary>Value in invariant form.</summary>
    public required string Value { get; set; }
}
