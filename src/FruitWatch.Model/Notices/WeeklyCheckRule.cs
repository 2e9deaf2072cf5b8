using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>Have a look at the bed: nothing was logged for a week, and no look was asked for in that week.</summary>
/// <remarks>The account knows nothing of mould, slugs and dogs, and drifts without a squeeze test now and then.</remarks>
public sealed class WeeklyCheckRule() : NoticeRule(NoticeKind.WeeklyCheck)
{
    /// <summary>Common practice, no source. [d]</summary>
    public const int EveryDays = 7;

    /// <summary>It may wait for the weekend; after that, the next week's is as good. Chosen. [d]</summary>
    public const int WaitsDays = 3;

    /// <inheritdoc/>
    public override bool LooksAhead => false;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        var seen = LastSeen(morning);
        if (open is not null && (seen >= open.FirstOn || morning.Today > open.Deadline))
            return null;
        var since = open is not null || last is null ? seen : LocalDate.Max(seen, last.FirstOn);
        if (open is null && morning.Today < since.PlusDays(EveryDays))
            return null;

        var day = open?.Day ?? morning.Today;
        return new NoticeDraft(Kind, day, day.PlusDays(WaitsDays), NoticeConfidence.Firm, NoticeReason.Of(
            ReasonCode.NothingLogged, (ReasonNumber.Days, -morning.Lead(seen))));
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open) =>
        LastSeen(morning) >= open.FirstOn ? (NoticeEnd.Done, ClosingCode.Logged) : (NoticeEnd.Lapsed, ClosingCode.DayPassed);

    /// <summary>A rain gauge is read for the whole site: it is no look at this bed.</summary>
    private static LocalDate LastSeen(BedMorning morning) =>
        morning.Log.LastOrDefault(e => e is not GaugeReading)?.Date ?? morning.Bed.Inoculated;
}
