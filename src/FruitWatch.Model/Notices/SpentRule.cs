using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>The filling has given as many flushes as its material can. Not told to a grower who said so.</summary>
public sealed class SpentRule() : NoticeRule(NoticeKind.Spent)
{
    /// <summary>Asked no longer than so. Chosen. [d]</summary>
    public const int WaitsDays = 30;

    /// <inheritdoc/>
    public override bool LooksAhead => false;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        if (morning.Phase != Phase.Spent || (open is not null && morning.Today > open.Deadline))
            return null;
        var since = SpentSince(morning);
        if (morning.Logged<BedSpent>(since) || (open is null && last?.FirstOn >= since))
            return null;

        var day = open?.Day ?? morning.Today;
        return new NoticeDraft(Kind, day, day.PlusDays(WaitsDays), NoticeConfidence.Likely, NoticeReason.Of(
            ReasonCode.FillingUsedUp, (ReasonNumber.Flushes, morning.Now?.Flushes ?? 0)));
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (morning.Logged<ToppedUp>(open.FirstOn))
            return (NoticeEnd.Done, ClosingCode.ToppedUp);
        if (morning.Logged<BedSpent>(open.FirstOn))
            return (NoticeEnd.Done, ClosingCode.BedSpent);
        return morning.Phase == Phase.Spent
            ? (NoticeEnd.Lapsed, ClosingCode.DayPassed)
            : (NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
    }

    /// <summary>The day on which the bed became spent, for the last time.</summary>
    private static LocalDate SpentSince(BedMorning morning)
    {
        var since = morning.Today;
        while (morning.Account.On(since.PlusDays(-1))?.Phase == Phase.Spent)
            since = since.PlusDays(-1);
        return since;
    }
}
