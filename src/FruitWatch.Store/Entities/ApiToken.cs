using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// Lets a program act for a person: never more than that person may, and only within its scopes. Shown once; only the hash of its
/// secret is kept.
/// </summary>
public sealed class ApiToken
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>For whom it acts.</summary>
    public long PersonId { get; set; }

    /// <summary>What its maker calls it.</summary>
    public required string Name { get; set; }

    /// <summary>SHA-256 of the secret, in hexadecimal.</summary>
    public required string Hash { get; set; }

    /// <summary>What it is good for: words separated by spaces, such as <c>read log</c>.</summary>
    public required string Scopes { get; set; }

    /// <summary>When it was made.</summary>
    public Instant MadeAt { get; set; }

    /// <summary>No longer of use from then on; a year at most.</summary>
    public Instant ExpiresAt { get; set; }

    /// <summary>When it was taken back; null while it is good.</summary>
    public Instant? RevokedAt { get; set; }

    /// <summary>When it was last used, to the nearest few minutes.</summary>
    public Instant? LastUsedAt { get; set; }
}
