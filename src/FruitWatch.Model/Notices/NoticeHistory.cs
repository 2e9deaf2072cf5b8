using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>A notice of a bed that was issued and not yet closed; at most one of a kind. As it was last told, by issue or revision.</summary>
/// <param name="Id">Its key in the store.</param>
/// <param name="Kind">What it tells.</param>
/// <param name="Episode">Which of the bed's notices of this kind it is, from 1.</param>
/// <param name="FirstOn">Local day of issue.</param>
/// <param name="Day">Local day to which it applies.</param>
/// <param name="Deadline">Last local day on which doing it still helps.</param>
/// <param name="Amount">Water to give; null where the kind asks for none. [L]</param>
/// <param name="Reason">Why.</param>
public sealed record OpenNotice(
    long Id, NoticeKind Kind, int Episode, LocalDate FirstOn, LocalDate Day, LocalDate Deadline, double? Amount, NoticeReason Reason);

/// <summary>The last closed notice of a kind: what must not be said again until something changes.</summary>
/// <param name="Kind">What it told.</param>
/// <param name="Episode">Which of the bed's notices of this kind it was, from 1.</param>
/// <param name="FirstOn">Local day of issue.</param>
/// <param name="ClosedOn">Local day on which it was closed.</param>
/// <param name="How">How it ended.</param>
public sealed record ClosedNotice(NoticeKind Kind, int Episode, LocalDate FirstOn, LocalDate ClosedOn, NoticeEnd How);

/// <summary>How a notice ends.</summary>
public enum NoticeEnd : byte
{
    /// <summary>What it asked was done, or what it expected came true.</summary>
    Done,

    /// <summary>It no longer holds.</summary>
    Withdrawn,

    /// <summary>Its day has passed.</summary>
    Lapsed,
}

/// <summary>Why a notice was closed.</summary>
public enum ClosingCode : byte
{
    /// <summary>Water was given.</summary>
    Watered,

    /// <summary>Rain came.</summary>
    RainCame,

    /// <summary>Enough rain is now forecast.</summary>
    RainComing,

    /// <summary>The bed is moist enough by its account, or was found to be.</summary>
    MoistEnough,

    /// <summary>The bed has drained.</summary>
    Drained,

    /// <summary>The cover is on.</summary>
    Covered,

    /// <summary>The cover is off.</summary>
    Uncovered,

    /// <summary>The bed has moved on to another phase, in which the advice does not hold.</summary>
    PhaseChanged,

    /// <summary>The forecast has changed.</summary>
    ForecastChanged,

    /// <summary>Frost is coming: the cover stays on.</summary>
    FrostComing,

    /// <summary>The frost came.</summary>
    FrostCame,

    /// <summary>The day has passed.</summary>
    DayPassed,

    /// <summary>Pins were seen.</summary>
    PinsSeen,

    /// <summary>By the account, pins have formed; nobody has said so yet.</summary>
    PinsByAccount,

    /// <summary>Mushrooms were picked, and the flush is over.</summary>
    Picked,

    /// <summary>By the account, the flush is over.</summary>
    FlushOver,

    /// <summary>The flush was lost to frost or drought.</summary>
    FlushLost,

    /// <summary>By the account, pinning failed for want of warmth, cool, water or damp air.</summary>
    AttemptFailed,

    /// <summary>Something was logged for the bed.</summary>
    Logged,

    /// <summary>Fresh material was laid.</summary>
    ToppedUp,

    /// <summary>The bed is spent, or was given up.</summary>
    BedSpent,
}
