using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>A flush is likely: the account reaches picking size within the forecast, or has reached it.</summary>
public sealed class ExpectHarvestRule() : NoticeRule(NoticeKind.ExpectHarvest)
{
    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        if (open is not null && IsOver(morning, open))
            return null;
        if (morning.Phase == Phase.Picking)
            return Ready(morning);
        return FlushWindow.Expected(
            morning, Kind, AccountEvent.Harvest, Phase.Growing, morning.Bed.Species.Growing.Days, open is not null, ReasonCode.HarvestAhead);
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (morning.Logged<Picked>(open.FirstOn))
            return (NoticeEnd.Done, ClosingCode.Picked);
        if (morning.Happened(AccountEvent.FlushOver, open.FirstOn))
            return (NoticeEnd.Done, ClosingCode.FlushOver);
        if (morning.Happened(AccountEvent.FlushLost, open.FirstOn))
            return (NoticeEnd.Withdrawn, ClosingCode.FlushLost);
        if (morning.Happened(AccountEvent.AttemptFailed, open.FirstOn))
            return (NoticeEnd.Withdrawn, ClosingCode.AttemptFailed);
        return morning.Today > open.Deadline
            ? (NoticeEnd.Lapsed, ClosingCode.DayPassed)
            : (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    /// <summary>Told again when the flush can be picked, and when the expected day has moved by three days or more.</summary>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now) =>
        now.Reason.Code != told.Reason.Code
        || (now.Reason.Code == ReasonCode.HarvestAhead && Math.Abs(Period.DaysBetween(told.Day, now.Day)) >= FlushWindow.MoveDays);

    private static bool IsOver(BedMorning morning, OpenNotice open) =>
        morning.Phase != Phase.Picking
        && (morning.Happened(AccountEvent.FlushOver, open.FirstOn) || morning.Happened(AccountEvent.FlushLost, open.FirstOn));

    private NoticeDraft Ready(BedMorning morning)
    {
        var left = (1 - (morning.Now is { Phase: Phase.Picking } now ? now.Progress : 0)) * morning.Bed.Species.PickingDays;
        var until = morning.Next(AccountEvent.FlushOver) ?? morning.Today.PlusDays(Math.Max(1, (int)Math.Ceiling(left)));
        // What somebody has picked from is ready; what the account alone says is likely.
        var picked = morning.Logged<Picked>(morning.Today.PlusDays(-(int)Math.Ceiling(morning.Bed.Species.PickingDays)));
        return new NoticeDraft(
            Kind, morning.Today, until, picked ? NoticeConfidence.Firm : NoticeConfidence.Likely,
            NoticeReason.Of(ReasonCode.FlushReady, (ReasonNumber.LateDays, morning.Lead(until))));
    }
}
