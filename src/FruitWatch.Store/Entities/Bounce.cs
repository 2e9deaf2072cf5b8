using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A report that a mail could not be delivered (RFC 3464).</summary>
public sealed class Bounce
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose member the mail went to.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Whom the mail went to.</summary>
    public long PersonId { get; set; }

    /// <summary>The mail. A mail bounces once, however often that is reported.</summary>
    public long MailId { get; set; }

    /// <summary>When the report was read.</summary>
    public Instant At { get; set; }

    /// <summary>Whether there is no use in trying again: a status of class 5.</summary>
    public bool Permanent { get; set; }

    /// <summary>Status code of RFC 3463, such as <c>5.1.1</c>.</summary>
    public required string Status { get; set; }

    /// <summary>What the other server said, on one line.</summary>
    public string Detail { get; set; } = "";
}
