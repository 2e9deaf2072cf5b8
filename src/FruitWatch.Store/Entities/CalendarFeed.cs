using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// An address under which a calendar program reads what is due: for a person, all that they are told of, or one site. Shown once; only
/// the hash of its secret is kept.
/// </summary>
public sealed class CalendarFeed
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Whose rights, language and units it has.</summary>
    public long PersonId { get; set; }

    /// <summary>The only site in it; null for all that the person is told about.</summary>
    public long? SiteId { get; set; }

    /// <summary>What its maker calls it, such as "Phone".</summary>
    public required string Name { get; set; }

    /// <summary>SHA-256 of the secret, in hexadecimal. Unique.</summary>
    public required string Hash { get; set; }

    /// <summary>When it was made.</summary>
    public Instant MadeAt { get; set; }

    /// <summary>When it was taken back; null while it opens.</summary>
    public Instant? RevokedAt { get; set; }

    /// <summary>When it was last read, to the nearest few minutes.</summary>
    public Instant? LastUsedAt { get; set; }
}
