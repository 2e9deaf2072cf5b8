using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// Past years being fetched for a site from a feed, a stretch at a time, the latest first. What is done survives a restart: the next
/// run goes on at <see cref="Next"/>.
/// </summary>
public sealed class Backfill
{
    /// <summary>The site.</summary>
    public long SiteId { get; set; }

    /// <summary>The feed.</summary>
    public long FeedId { get; set; }

    /// <summary>Earliest day wanted.</summary>
    public LocalDate First { get; set; }

    /// <summary>Latest day wanted.</summary>
    public LocalDate Last { get; set; }

    /// <summary>Latest day that has not been asked for yet; before <see cref="First"/> when all have been.</summary>
    public LocalDate Next { get; set; }

    /// <summary>Days that came.</summary>
    public int DaysKept { get; set; }

    /// <summary>Requests made.</summary>
    public int Requests { get; set; }

    /// <summary>Where it stands.</summary>
    public BackfillState State { get; set; }

    /// <summary>What the last stretch ran into, in words; null after a good one.</summary>
    public string? Problem { get; set; }

    /// <summary>Tries of the present stretch without a good answer.</summary>
    public int FailuresInARow { get; set; }

    /// <summary>When it may go on.</summary>
    public Instant NextTryAt { get; set; }

    /// <summary>Until when a server that works at it has it to itself; null while none does.</summary>
    public Instant? LeaseUntil { get; set; }

    /// <summary>When it was asked for.</summary>
    public Instant StartedAt { get; set; }

    /// <summary>When a stretch last came in.</summary>
    public Instant? ProgressAt { get; set; }
}

/// <summary>Where a backfill stands.</summary>
public enum BackfillState : byte
{
    /// <summary>Stretches are still to be fetched.</summary>
    Running,

    /// <summary>Somebody halted it; it can go on.</summary>
    Halted,

    /// <summary>All stretches were asked for.</summary>
    Done,

    /// <summary>It cannot go on until somebody changes something.</summary>
    Stuck,
}
