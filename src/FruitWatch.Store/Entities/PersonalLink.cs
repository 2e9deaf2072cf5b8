using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// An address under which a farm hand works without a password: today's lists of their sites and their logs, nothing else. Shown
/// once; only the hash of its secret is kept.
/// </summary>
public sealed class PersonalLink
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Who works with it.</summary>
    public long PersonId { get; set; }

    /// <summary>What its maker calls it, such as "Rosalia's phone".</summary>
    public required string Name { get; set; }

    /// <summary>SHA-256 of the secret, in hexadecimal. Unique.</summary>
    public required string Hash { get; set; }

    /// <summary>When it was made.</summary>
    public Instant MadeAt { get; set; }

    /// <summary>No longer of use from then on.</summary>
    public Instant ExpiresAt { get; set; }

    /// <summary>When it was taken back; null while it opens.</summary>
    public Instant? RevokedAt { get; set; }

    /// <summary>When it was last used, to the nearest few minutes.</summary>
    public Instant? LastUsedAt { get; set; }
}
