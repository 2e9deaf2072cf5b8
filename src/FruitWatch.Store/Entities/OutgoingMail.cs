using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A mail to be sent, written in the transaction of what caused it. Its key keeps it from being written twice.</summary>
public sealed class OutgoingMail
{
    /// <summary>Key of the row.</summary>
    public long Id { get; set; }

    /// <summary>What it is for, such as <c>digest:17:2026-10-05</c>; unique.</summary>
    public required string Key { get; set; }

    /// <summary>In whose name it is sent; null for what the service itself sends, such as a new password.</summary>
    public long? CooperativeId { get; set; }

    /// <summary>Who gets it; null where it goes to no person of ours, or to one who has been removed.</summary>
    public long? PersonId { get; set; }

    /// <summary>Name in the To field.</summary>
    public required string ToName { get; set; }

    /// <summary>Address in the To field.</summary>
    public required string ToAddress { get; set; }

    /// <summary>Subject, unencoded.</summary>
    public required string Subject { get; set; }

    /// <summary>The whole message as plain text.</summary>
    public required string TextBody { get; set; }

    /// <summary>The whole message as HTML.</summary>
    public required string HtmlBody { get; set; }

    /// <summary>Message-ID without brackets; the same at every attempt, so that a receiver can drop a second copy. Unique.</summary>
    public required string MessageId { get; set; }

    /// <summary>Further header fields as a JSON object; null for none.</summary>
    public string? Headers { get; set; }

    /// <summary>Where it stands.</summary>
    public MailState State { get; set; }

    /// <summary>Attempts begun.</summary>
    public int Attempts { get; set; }

    /// <summary>Not before.</summary>
    public Instant NextTryAt { get; set; }

    /// <summary>No longer of use from then on.</summary>
    public Instant NotAfter { get; set; }

    /// <summary>Sender that has claimed it.</summary>
    public string? Owner { get; set; }

    /// <summary>Until when the claim holds; a sender that died gives it back by then.</summary>
    public Instant? LeaseUntil { get; set; }

    /// <summary>When it was written.</summary>
    public Instant CreatedAt { get; set; }

    /// <summary>When the relay took it, or may have taken it.</summary>
    public Instant? SentAt { get; set; }

    /// <summary>What the last attempt ran into; null after a good one.</summary>
    public string? LastError { get; set; }
}

/// <summary>Where a mail stands.</summary>
public enum MailState : byte
{
    /// <summary>Waiting for its time.</summary>
    Pending,

    /// <summary>Claimed by a sender.</summary>
    Sending,

    /// <summary>Taken by the relay.</summary>
    Sent,

    /// <summary>The connection broke when the relay may already have taken it; not tried again.</summary>
    Unconfirmed,

    /// <summary>Refused for good.</summary>
    Failed,

    /// <summary>Its time had passed before it could be sent.</summary>
    Expired,
}
