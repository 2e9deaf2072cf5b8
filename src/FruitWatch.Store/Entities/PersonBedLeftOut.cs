namespace FruitWatch.Store.Entities;

/// <summary>A person does not want to be told of a bed, though they are told about its site. Of every other bed they are told.</summary>
public sealed class PersonBedLeftOut
{
    /// <summary>The person.</summary>
    public long PersonId { get; set; }

    /// <summary>The bed.</summary>
    public long BedId { get; set; }
}
