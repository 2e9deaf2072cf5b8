using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>Something that was told to the service from a mail, by a link that serves once.</summary>
public sealed class MailDeed
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Whose mail it was.</summary>
    public long PersonId { get; set; }

    /// <summary>The notice that the mail told of.</summary>
    public long NoticeId { get; set; }

    /// <summary>What is known of the link: a link acts once. Unique.</summary>
    public required string Nonce { get; set; }

    /// <summary>What was done, such as <c>watered</c>.</summary>
    public required string Deed { get; set; }

    /// <summary>When.</summary>
    public Instant At { get; set; }

    /// <summary>The log entry that it made; null where it made none.</summary>
    public long? LogEntryId { get; set; }

    /// <summary>The local day on which the notice is told again, where it was put off; null otherwise.</summary>
    public LocalDate? Until { get; set; }

    /// <summary>When it was undone; null while it counts.</summary>
    public Instant? UndoneAt { get; set; }
}
