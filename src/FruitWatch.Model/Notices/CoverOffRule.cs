using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>
/// Take the cover off: the bed pins or fruits, is ready to or soon will be, or is dry while rain is coming that it could have.
/// </summary>
/// <remarks>
/// Most species wait for a soaking, and pins want fresh air. On the eve of a frost that kills, the cover stays on a flush.
/// </remarks>
public sealed class CoverOffRule() : NoticeRule(NoticeKind.CoverOff)
{
    /// <summary>Uncovered so many days before it is ready, so that a soaking reaches it in time. Chosen. [d]</summary>
    public const int ReadyWithinDays = 7;

    /// <summary>Good rain, through the trees, over <see cref="RainDays"/>. Chosen: less wets hardly more than the mulch. [mm]</summary>
    public const double GoodRain = 5;

    /// <summary>Days over which rain to come is added up, today included. [d]</summary>
    public const int RainDays = 3;

    /// <summary>From this a day counts as wet. World Meteorological Organization's usual limit. [mm]</summary>
    public const double WetDay = 1;

    private const int KeptReadyWithinDays = ReadyWithinDays + 3;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last) =>
        morning.Cover == Cover.None ? null
        : At(morning, FrostAheadRule.KeptWithin, ReadyWithinDays) ?? (open is null ? null : At(morning, 0, KeptReadyWithinDays));

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (morning.Cover == Cover.None)
            return (NoticeEnd.Done, ClosingCode.Uncovered);
        if (IsFruiting(morning.Phase))
            return (NoticeEnd.Withdrawn, ClosingCode.FrostComing);
        if (open.Reason.Code != ReasonCode.RainForDryBed)
            return (NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
        return morning.Today > open.Deadline
            ? (NoticeEnd.Lapsed, ClosingCode.DayPassed)
            : (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    internal static bool IsFruiting(Phase phase) => phase is Phase.Pinning or Phase.Growing or Phase.Picking;

    /// <summary>The day on which the bed is ready: today where it is already; null where that is further off than some days.</summary>
    internal static LocalDate? ReadyOn(BedMorning morning, int days)
    {
        if (morning.Phase == Phase.Ready)
            return morning.Today;
        foreach (var day in morning.Ahead(0, days))
        {
            if (day.Event is AccountEvent.Colonised or AccountEvent.Ready)
                return day.Date;
        }

        return null;
    }

    /// <summary>Why to uncover a covered, dry bed for the rain; null where it is not so.</summary>
    internal static NoticeReason? RainForDryBed(BedMorning morning)
    {
        if (morning.Cover == Cover.None)
            return null;
        var dry = morning.AtOrLast(morning.Today.PlusDays(WaterRule.DryWithinDays));
        var missing = (dry.WaterMark - dry.Moisture) * dry.AvailableStore;
        var bed = morning.Bed;
        var inMulch = (bed.Mulch?.MulchStorePerCm ?? 0) * bed.MulchCm;
        var reaching = morning.RainAhead(RainDays) * bed.Throughfall * bed.RunOn - inMulch;
        return missing > 0 && reaching >= Math.Max(GoodRain, missing) && morning.ChangingCover() is not { ActingIsBetter: false }
            ? NoticeReason.Of(
                ReasonCode.RainForDryBed,
                (ReasonNumber.Moisture, (morning.Now ?? dry).Moisture),
                (ReasonNumber.WaterMark, dry.WaterMark),
                (ReasonNumber.RainToCome, morning.RainAhead(RainDays)),
                (ReasonNumber.Days, RainDays))
            : null;
    }

    private NoticeDraft? At(BedMorning morning, double frostMargin, int readyWithin)
    {
        if (IsFruiting(morning.Phase))
            // Whatever the water says: the account knows nothing of the fresh air that pins need.
            return FrostOnFlush(morning, frostMargin) ? null : Today(morning, NoticeReason.Of(ReasonCode.FruitingUnderCover), morning.ChangingCover());
        if (ReadyOn(morning, readyWithin) is { } ready && morning.ChangingCover(WhatCounts.Pins) is not { ActingIsWorse: true })
            return new NoticeDraft(Kind, morning.Today, ready, Certainty.On(morning, ready), NoticeReason.Of(
                ReasonCode.ReadyToPin, (ReasonNumber.Days, morning.Lead(ready))).Quoting(morning.ChangingCover(WhatCounts.Pins), morning.Today));
        return RainForDryBed(morning) is { } reason
            ? Today(morning, reason, morning.ChangingCover()) with { Deadline = FirstWetDay(morning) }
            : null;
    }

    private static bool FrostOnFlush(BedMorning morning, double margin)
    {
        for (var lead = 1; lead <= FrostAheadRule.NightsAhead; lead++)
        {
            if (morning.BareGroundMin(morning.Today.PlusDays(lead)) <= morning.Bed.Species.Growing.KillingFrost + margin)
                return true;
        }

        return false;
    }

    private static LocalDate FirstWetDay(BedMorning morning)
    {
        for (var date = morning.Today; date < morning.Today.PlusDays(RainDays); date = date.PlusDays(1))
        {
            if (morning.WeatherOn(date)?.Rain >= WetDay)
                return date;
        }

        return morning.Today;
    }

    private NoticeDraft Today(BedMorning morning, NoticeReason reason, WhatIf? whatIf) =>
        new(Kind, morning.Today, morning.Today, Certainty.On(morning, morning.Today), reason.Quoting(whatIf, morning.Today));
}
