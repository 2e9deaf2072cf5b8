using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>Pins are likely: the account reaches them within the forecast.</summary>
public sealed class ExpectPinsRule() : NoticeRule(NoticeKind.ExpectPins)
{
    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        if (morning.Phase is Phase.Growing or Phase.Picking || (open is not null && CameTrue(morning, open)))
            return null;
        return FlushWindow.Expected(
            morning, Kind, AccountEvent.Pins, Phase.Pinning, morning.Bed.Species.Pinning.Days, open is not null, ReasonCode.PinsAhead);
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (morning.Logged<PinsSeen>(open.FirstOn) || morning.Logged<Picked>(open.FirstOn))
            return (NoticeEnd.Done, ClosingCode.PinsSeen);
        if (morning.Phase is Phase.Growing or Phase.Picking || CameTrue(morning, open))
            return (NoticeEnd.Done, ClosingCode.PinsByAccount);
        if (morning.Happened(AccountEvent.AttemptFailed, open.FirstOn))
            return (NoticeEnd.Withdrawn, ClosingCode.AttemptFailed);
        return morning.Today > open.Deadline
            ? (NoticeEnd.Lapsed, ClosingCode.DayPassed)
            : (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    /// <summary>Told again when the expected day has moved by three days or more.</summary>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now) =>
        Math.Abs(Period.DaysBetween(told.Day, now.Day)) >= FlushWindow.MoveDays;

    private static bool CameTrue(BedMorning morning, OpenNotice open) => morning.Happened(AccountEvent.Pins, open.FirstOn);
}
