namespace FruitWatch.Store.Entities;

/// <summary>A weather feed that a cooperative uses. How it has been answering is told site by site, see <see cref="SiteFeed"/>.</summary>
public sealed class Feed : IEdited
{
    /// <summary>Key of the row.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Short name for addresses and files; once per cooperative.</summary>
    public required string Key { get; set; }

    /// <summary>What its users call it.</summary>
    public required string Title { get; set; }

    /// <summary>How it is read: the <c>weather-feed/1</c> description, as JSON text.</summary>
    public required string Description { get; set; }

    /// <summary>The provider's key, encrypted with the service's own keys; null where the feed needs none.</summary>
    public string? SealedKey { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;
}
