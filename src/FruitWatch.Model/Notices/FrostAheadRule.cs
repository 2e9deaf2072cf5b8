using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>
/// Frost ahead: welcome to a ready bed whose species waits for it, a threat to pins and to a flush.
/// </summary>
/// <remarks>
/// Judged at the bed's surface, not at the screen: the ground is 1 °C colder than the screen's minimum under trees, cloud or
/// wind, 3 °C on clear nights in the open. A day's minimum falls in the small hours, so that the first night that can still be
/// met is tomorrow's. The frost that a species waits for is a growers' rule with low confidence.
/// </remarks>
public sealed class FrostAheadRule() : NoticeRule(NoticeKind.FrostAhead)
{
    /// <summary>Nights that it looks ahead. Forecast minima are within about 2 °C so far (RMSE 1.7–1.9 °C at 24–48 h). [d]</summary>
    public const int NightsAhead = 3;

    /// <summary>An open notice holds while the forecast is so near to the frost that counts. Chosen, below the forecast's own error. [°C]</summary>
    public const double KeptWithin = 1;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        for (var lead = 1; lead <= NightsAhead; lead++)
        {
            var night = morning.Today.PlusDays(lead);
            if (Threatens(morning, night, 0))
                return Threat(morning, night);
            if (Triggers(morning, night, 0))
                return Trigger(morning, night);
        }

        for (var lead = 1; open is not null && lead <= NightsAhead; lead++)
        {
            var night = morning.Today.PlusDays(lead);
            if (Threatens(morning, night, KeptWithin))
                return Threat(morning, night);
            if (Triggers(morning, night, KeptWithin))
                return Trigger(morning, night);
        }

        return null;
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (open.Reason.Code == ReasonCode.FrostTriggers)
        {
            var before = morning.Account.On(open.FirstOn.PlusDays(-1))?.FrostNights ?? 0;
            if (morning.Now?.FrostNights > before)
                return (NoticeEnd.Done, ClosingCode.FrostCame);
            if (morning.Phase != Phase.Ready)
                return (NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
        }
        else
        {
            if (morning.Cover != Cover.None && open.Reason[ReasonNumber.Covered] == 0)
                return (NoticeEnd.Done, ClosingCode.Covered);
            if (morning.Happened(AccountEvent.FlushLost, open.FirstOn))
                return (NoticeEnd.Lapsed, ClosingCode.FlushLost);
            if (!CoverOffRule.IsFruiting(morning.Phase))
                return (NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
        }

        return morning.Today >= open.Day
            ? (NoticeEnd.Lapsed, ClosingCode.DayPassed)
            : (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    /// <summary>Told again when a welcome frost becomes a threat, when it comes sooner, on the eve, and for a new spell.</summary>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now)
    {
        if (now.Reason.Code != told.Reason.Code || now.Day < told.Day || (now.Urgent && told.Reason[ReasonNumber.LeadDays] > 1))
            return true;
        var frost = told.Reason[ReasonNumber.FrostMark] + KeptWithin;
        return morning.Today >= told.Day && !Unbroken(told.Day, now.Day, night => morning.Account.On(night)?.GroundMin <= frost);
    }

    private static bool Threatens(BedMorning morning, LocalDate night, double margin)
    {
        var eve = night == morning.Today.PlusDays(1) ? morning.Phase : morning.Account.On(night.PlusDays(-1))?.Phase;
        return eve is { } phase && CoverOffRule.IsFruiting(phase)
            && morning.Account.On(night)?.GroundMin <= morning.Bed.Species.Growing.KillingFrost + margin;
    }

    private static bool Triggers(BedMorning morning, LocalDate night, double margin) =>
        morning.Bed.Species.Triggers.Frost is { } frost
        && morning.Phase == Phase.Ready
        && (morning.Now?.FrostNights ?? 0) < frost.Nights
        && morning.BareGroundMin(night) <= frost.GroundMin + margin;

    private NoticeDraft Threat(BedMorning morning, LocalDate night) =>
        Draft(morning, night, ReasonCode.FrostThreatens, morning.AtOrLast(night).GroundMin, morning.Bed.Species.Growing.KillingFrost, 0)
            with
        { Urgent = morning.Lead(night) == 1 };

    private NoticeDraft Trigger(BedMorning morning, LocalDate night)
    {
        var frost = morning.Bed.Species.Triggers.Frost!;
        return Draft(
            morning, night, ReasonCode.FrostTriggers, morning.BareGroundMin(night)!.Value, frost.GroundMin,
            frost.Nights - (morning.Now?.FrostNights ?? 0));
    }

    private NoticeDraft Draft(BedMorning morning, LocalDate night, ReasonCode code, double groundMin, double mark, int nights) =>
        new(Kind, night, night.PlusDays(-1), Certainty.On(morning, night), NoticeReason.Of(
            code,
            (ReasonNumber.GroundMin, groundMin),
            (ReasonNumber.FrostMark, mark),
            (ReasonNumber.Nights, nights),
            (ReasonNumber.Covered, morning.Cover == Cover.None ? 0 : 1),
            (ReasonNumber.LeadDays, morning.Lead(night))));
}
