using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// A notice that was issued. An episode opens when its condition starts and closes when it ends, so that the same dry spell is
/// told once: one row per bed (or site, where no bed is named), kind and episode.
/// </summary>
public sealed class IssuedNotice : IEdited
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>The site.</summary>
    public long SiteId { get; set; }

    /// <summary>The bed; null for a notice about the whole site.</summary>
    public long? BedId { get; set; }

    /// <summary>What kind of notice, such as <c>water</c>.</summary>
    public required string Kind { get; set; }

    /// <summary>Counts the episodes of this kind, from 1.</summary>
    public int Episode { get; set; }

    /// <summary>Local day of the round that issued it.</summary>
    public LocalDate FirstOn { get; set; }

    /// <summary>Local day on which it is to be done, or is expected.</summary>
    public LocalDate Day { get; set; }

    /// <summary>Last local day on which doing it still helps.</summary>
    public LocalDate Deadline { get; set; }

    /// <summary>Where it stands.</summary>
    public NoticeState State { get; set; }

    /// <summary>Local day on which it was closed; null while open.</summary>
    public LocalDate? ClosedOn { get; set; }

    /// <summary>Why it was closed; null while open.</summary>
    public string? ClosedWhy { get; set; }

    /// <summary>How much, in the unit of the kind, such as [L] of water; null where the kind has none.</summary>
    public double? Amount { get; set; }

    /// <summary>How sure: a code of the kind's scale.</summary>
    public required string Confidence { get; set; }

    /// <summary>Why, as JSON: a code and the numbers that its sentence needs.</summary>
    public required string Reason { get; set; }

    /// <summary>Local day of the last round that still held it.</summary>
    public LocalDate ConfirmedOn { get; set; }

    /// <summary>When it was issued.</summary>
    public Instant IssuedAt { get; set; }

    /// <summary>When something material about it last changed, so that it has to be told again; null while it is as first told.</summary>
    public Instant? RevisedAt { get; set; }

    /// <summary>How often it has changed since it was issued, its end included: the SEQUENCE of its entry in a calendar.</summary>
    public int Revisions { get; set; }

    /// <summary>When it was closed; null while open.</summary>
    public Instant? ClosedAt { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;
}

/// <summary>Where a notice stands.</summary>
public enum NoticeState : byte
{
    /// <summary>Waiting to be done, or to happen.</summary>
    Open,

    /// <summary>Done, or it happened.</summary>
    Done,

    /// <summary>Its reason no longer holds.</summary>
    Withdrawn,

    /// <summary>Its deadline passed.</summary>
    Lapsed,
}
