using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>
/// Put the cover on: the bed has no use for rain or fresh air yet, and would dry out for want of rain, or drown in it.
/// </summary>
/// <remarks>
/// A closed sheet lets 5–15 % of the evaporation through (FAO-56 ch. 10 gives 0.10 for a continuous sheet). A bed that pins or
/// fruits is left open; against frost it is the frost notice that asks for a cover.
/// </remarks>
public sealed class CoverOnRule() : NoticeRule(NoticeKind.CoverOn)
{
    /// <summary>Looks so far ahead for the dry mark: rain forecasts beyond a week have little skill. [d]</summary>
    public const int DryWithinDays = 7;

    /// <summary>Looks so far ahead for heavy rain. Chosen. [d]</summary>
    public const int FloodWithinDays = 3;

    /// <summary>Air-filled porosity at a day's end below which the account lets moisture slow growth. Derived, adjustable. [m³/m³]</summary>
    public const double AirMark = HoldWaterRule.AirMark;

    /// <summary>A bed that is ready within so many days is not covered any more; three more than it takes to uncover it. [d]</summary>
    public const int NotReadyWithinDays = CoverOffRule.ReadyWithinDays + 3;

    /// <summary>
    /// A bed that its grower uncovered so lately is not to be covered against drought: it was opened to make ready, and is watered
    /// instead. Chosen, so that the two advices do not chase each other. [d]
    /// </summary>
    public const int LeftOpenDays = 14;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        if (morning.Cover != Cover.None || morning.Phase is not (Phase.SpawnRun or Phase.Resting))
            return null;
        if (open is null)
            return Ready(morning, NotReadyWithinDays) ? null
                : Flooded(morning, AirMark) ?? (UncoveredLately(morning) ? null : Dry(morning, 0));
        return Ready(morning, CoverOffRule.ReadyWithinDays)
            ? null
            : At(morning, AirMark, 0) ?? At(morning, HoldWaterRule.KeptBelowAir, WaterRule.KeptAbove);
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (morning.Cover != Cover.None)
            return (NoticeEnd.Done, ClosingCode.Covered);
        if (morning.Phase is not (Phase.SpawnRun or Phase.Resting) || Ready(morning, CoverOffRule.ReadyWithinDays))
            return (NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
        return open.Reason.Code == ReasonCode.DryAhead && morning.RainAhead(DryWithinDays) > 0
            ? (NoticeEnd.Withdrawn, ClosingCode.RainComing)
            : (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    /// <inheritdoc/>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now) =>
        now.Reason.Code != told.Reason.Code || base.WorthTelling(morning, told, now);

    private static bool Ready(BedMorning morning, int days) => CoverOffRule.ReadyOn(morning, days) is not null;

    private static bool UncoveredLately(BedMorning morning) => morning.Log.OfType<CoverChanged>()
        .LastOrDefault(change => change.Date <= morning.Today) is { Cover: Cover.None } last
        && Period.DaysBetween(last.Date, morning.Today) <= LeftOpenDays;

    private NoticeDraft? At(BedMorning morning, double airMark, double margin) => Flooded(morning, airMark) ?? Dry(morning, margin);

    private NoticeDraft? Flooded(BedMorning morning, double airMark)
    {
        foreach (var day in morning.Ahead(0, FloodWithinDays - 1))
        {
            if (day.Air >= airMark || day.Rain <= 0)
                continue;
            if (morning.ChangingCover()?.IsAdvised(airMark > AirMark) == false)
                return null;
            return new NoticeDraft(Kind, morning.Today, day.Date, Certainty.On(morning, day.Date), NoticeReason.Of(
                ReasonCode.RainWouldDrown,
                (ReasonNumber.Air, day.Air),
                (ReasonNumber.AirMark, AirMark),
                (ReasonNumber.RainToCome, morning.RainAhead(FloodWithinDays)),
                (ReasonNumber.Days, FloodWithinDays)).Quoting(morning.ChangingCover(), morning.Today));
        }

        return null;
    }

    private NoticeDraft? Dry(BedMorning morning, double margin) =>
        morning.Outlook is { } outlook ? DryInHalf(morning, outlook, margin) : DryByForecast(morning, margin);

    /// <summary>Dry at the end of the week in half of the futures or more, and better off covered.</summary>
    private NoticeDraft? DryInHalf(BedMorning morning, BedOutlook outlook, double margin)
    {
        var whatIf = morning.ChangingCover();
        if (2 * (margin > 0 ? outlook.Alone.NearlyDryWeek : outlook.Alone.DryWeek) < outlook.Members || whatIf?.IsAdvised(margin > 0) == false)
            return null;
        var week = morning.Today.PlusDays(DryWithinDays - 1);
        return DryOn(morning, morning.AtOrLast(outlook.Alone.Dry.DateOf(0.5) is { } half && half < week ? half : week), whatIf);
    }

    private NoticeDraft? DryByForecast(BedMorning morning, double margin)
    {
        var end = morning.AtOrLast(morning.Today.PlusDays(DryWithinDays - 1));
        if (end.Moisture >= end.WaterMark + margin)
            return null;
        foreach (var day in morning.Ahead(0, DryWithinDays - 1))
        {
            if (day.Moisture < day.WaterMark + margin)
                return DryOn(morning, day, null);
        }

        return null;
    }

    private NoticeDraft DryOn(BedMorning morning, AccountDay day, WhatIf? whatIf)
    {
        var deadline = LocalDate.Max(morning.Today, day.Date.PlusDays(-1));
        return new NoticeDraft(Kind, morning.Today, deadline, Certainty.On(morning, day.Date), NoticeReason.Of(
            ReasonCode.DryAhead,
            (ReasonNumber.Moisture, (morning.Now ?? day).Moisture),
            (ReasonNumber.WaterMark, day.WaterMark),
            (ReasonNumber.RainToCome, morning.RainAhead(DryWithinDays)),
            (ReasonNumber.Days, morning.Lead(day.Date))).Quoting(whatIf, morning.Today));
    }
}
