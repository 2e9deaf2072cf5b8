using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>A notice as a rule would issue it this morning.</summary>
/// <param name="Kind">What it tells.</param>
/// <param name="Day">Local day to which it applies: to do it, or the likeliest day of what is expected.</param>
/// <param name="Deadline">Last local day on which doing it still helps; for pins and harvest the end of the window.</param>
/// <param name="Confidence">How sure.</param>
/// <param name="Reason">Why.</param>
public sealed record NoticeDraft(NoticeKind Kind, LocalDate Day, LocalDate Deadline, NoticeConfidence Confidence, NoticeReason Reason)
{
    /// <summary>Water to give; null where the kind asks for none. [L]</summary>
    public double? Amount { get; init; }

    /// <summary>It cannot wait for the morning's list: hard frost tonight on a flush, heat by tomorrow on an uncovered young bed.</summary>
    public bool Urgent { get; init; }

    /// <summary>First day of the window of pins or harvest; <see cref="Day"/> for other kinds.</summary>
    public LocalDate From => Day.PlusDays(-(int)Reason[ReasonNumber.EarlyDays]);

    /// <summary>Last day of the window of pins or harvest; <see cref="Day"/> for other kinds.</summary>
    public LocalDate Until => Day.PlusDays((int)Reason[ReasonNumber.LateDays]);

    /// <summary>Whether it must carry the words on knowing every mushroom with certainty.</summary>
    public bool NeedsEatingCaution => Kind.NeedsEatingCaution();
}

/// <summary>How sure a notice is: by how far ahead it looks, and on what weather it rests.</summary>
public enum NoticeConfidence : byte
{
    /// <summary>Rests on what was seen or measured, or on the forecast of today and tomorrow.</summary>
    Firm,

    /// <summary>Rests on a forecast of a few days.</summary>
    Likely,

    /// <summary>Rests on a long forecast, on an old one, or on weather that was filled in.</summary>
    Possible,
}
