namespace FruitWatch.Store.Entities;

/// <summary>Growers who share sites, people and feeds. Nothing of one cooperative is shown to another.</summary>
public sealed class Cooperative
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>What its members call it.</summary>
    public required string Name { get; set; }
}
