using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// A description that somebody is trying, with the answer it was tried on. It counts for nothing until it is saved as a feed, and is
/// thrown away after a day.
/// </summary>
public sealed class FeedDraft
{
    /// <summary>Key; drawn at random, so that nobody finds a draft by counting.</summary>
    public Guid Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>The feed that is being changed; null for a new one.</summary>
    public long? FeedId { get; set; }

    /// <summary>The site whose place and days it is tried for.</summary>
    public long SiteId { get; set; }

    /// <summary>The station asked about; null for the site's own or none.</summary>
    public string? Station { get; set; }

    /// <summary>What the feed is to be called.</summary>
    public required string Title { get; set; }

    /// <summary>The description that is tried.</summary>
    public required string Description { get; set; }

    /// <summary>The provider's key, encrypted; null where there is none.</summary>
    public string? SealedKey { get; set; }

    /// <summary>Address that the answer came from, without key, or the name of the file.</summary>
    public string? Asked { get; set; }

    /// <summary>Content type of the answer.</summary>
    public string? MediaType { get; set; }

    /// <summary>The answer, packed with gzip; null while there is none.</summary>
    public byte[]? Body { get; set; }

    /// <summary>When the answer came.</summary>
    public Instant? FetchedAt { get; set; }

    /// <summary>The description gives days from this answer, so that it may be saved.</summary>
    public bool Good { get; set; }

    /// <summary>When it was last tried.</summary>
    public Instant MadeAt { get; set; }
}
