namespace FruitWatch.Store.Entities;

/// <summary>A person is told about a site.</summary>
public sealed class PersonSite
{
    /// <summary>The person.</summary>
    public long PersonId { get; set; }

    /// <summary>The site.</summary>
    public long SiteId { get; set; }
}
