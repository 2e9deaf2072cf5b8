using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// The last good answer of a feed for a place, as it came. Sites that round to the same place share it; a changed description is
/// tried on it without asking again.
/// </summary>
public sealed class FeedAnswer
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>The feed.</summary>
    public long FeedId { get; set; }

    /// <summary>The address with its dates left open, without key: the same for all sites that share it. Once per feed.</summary>
    public required string Place { get; set; }

    /// <summary>The address as it was asked, without key.</summary>
    public required string Asked { get; set; }

    /// <summary>Content type.</summary>
    public required string MediaType { get; set; }

    /// <summary>The bytes, packed with gzip; null where they were too many to keep.</summary>
    public byte[]? Body { get; set; }

    /// <summary>Length of the answer, unpacked. [B]</summary>
    public int Length { get; set; }

    /// <summary>When the last byte came.</summary>
    public Instant FetchedAt { get; set; }

    /// <summary>When the provider last said that nothing newer exists.</summary>
    public Instant CheckedAt { get; set; }

    /// <summary>Until when the provider says nothing newer will come; null where it does not say.</summary>
    public Instant? Expires { get; set; }

    /// <summary>The provider's tag, exactly as sent.</summary>
    public string? Etag { get; set; }

    /// <summary>The provider's Last-Modified, exactly as sent.</summary>
    public string? LastModified { get; set; }

    /// <summary>What the transfer itself had to tell, as a JSON list of notes; null for nothing.</summary>
    public string? Notes { get; set; }
}
