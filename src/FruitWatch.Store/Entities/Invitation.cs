using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// Somebody was asked by mail to become a member. The person's row is made with it and is not active until they accept. The mail
/// holds a secret, of which only the hash is kept.
/// </summary>
public sealed class Invitation
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Where to.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Who is asked.</summary>
    public long PersonId { get; set; }

    /// <summary>SHA-256 of the secret, in hexadecimal. Unique.</summary>
    public required string Hash { get; set; }

    /// <summary>When it was sent.</summary>
    public Instant SentAt { get; set; }

    /// <summary>No longer of use from then on.</summary>
    public Instant ExpiresAt { get; set; }

    /// <summary>When it was accepted; an invitation opens once.</summary>
    public Instant? AcceptedAt { get; set; }
}
