using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>Heat ahead: on an uncovered bed whose spawn has not joined up yet, or so that the bed itself comes near the heat that harms its spawn.</summary>
public sealed class HeatAheadRule() : NoticeRule(NoticeKind.HeatAhead)
{
    /// <summary>A hot day. The World Meteorological Organization counts days of 25 and 30 °C; 30 is chosen here. [°C]</summary>
    public const double HotDay = 30;

    /// <summary>Spawn is young for so long: about the time in which it joins up at fair temperatures. Common practice, no source. [d]</summary>
    public const int YoungDays = 60;

    /// <summary>The bed counts as near its harm so far below it: a bed temperature is known to 1–2 °C. Derived. [°C]</summary>
    public const double NearHarm = 2;

    /// <summary>Days that it looks ahead, today included. [d]</summary>
    public const int DaysAhead = 3;

    /// <summary>An open notice holds while the forecast is so near to the heat that counts. Chosen, below the forecast's own error. [°C]</summary>
    public const double KeptWithin = 1;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last) =>
        First(morning, 0) ?? (open is null ? null : First(morning, KeptWithin));

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (open.Reason.Code == ReasonCode.HeatOnYoungSpawn)
        {
            if (morning.Cover != Cover.None)
                return (NoticeEnd.Done, ClosingCode.Covered);
            if (!IsYoung(morning, morning.Today))
                return (NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
        }

        return morning.Today > open.Day
            ? (NoticeEnd.Lapsed, ClosingCode.DayPassed)
            : (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    /// <summary>Told again when the bed itself comes near harm, on the eve, and for a new spell.</summary>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now)
    {
        if (told.Reason.Code == ReasonCode.HeatOnYoungSpawn && now.Reason.Code == ReasonCode.BedNearHarm)
            return true;
        if (now.Urgent && told.Reason[ReasonNumber.LeadDays] > 1)
            return morning.Today <= told.Day;
        return morning.Today > told.Day
            && !Unbroken(told.Day, now.Day, day => IsHot(morning, day, KeptWithin) || IsNearHarm(morning, day, KeptWithin));
    }

    private NoticeDraft? First(BedMorning morning, double margin)
    {
        for (var lead = 0; lead < DaysAhead; lead++)
        {
            var day = morning.Today.PlusDays(lead);
            if (IsNearHarm(morning, day, margin))
                return Draft(morning, day, lead, NoticeReason.Of(
                    ReasonCode.BedNearHarm,
                    (ReasonNumber.BedTemperature, morning.AtOrLast(day).BedTemperature),
                    (ReasonNumber.HarmTemperature, morning.Bed.Species.SpawnRun.THarm),
                    (ReasonNumber.Covered, morning.Cover == Cover.None ? 0 : 1),
                    (ReasonNumber.LeadDays, lead)));
            if (IsYoung(morning, day) && morning.Cover == Cover.None && IsHot(morning, day, margin))
                return Draft(morning, day, lead, NoticeReason.Of(
                    ReasonCode.HeatOnYoungSpawn,
                    (ReasonNumber.Tmax, morning.WeatherOn(day)!.Tmax!.Value),
                    (ReasonNumber.HeatMark, HotDay),
                    (ReasonNumber.Days, morning.Age(day)),
                    (ReasonNumber.LeadDays, lead)));
        }

        return null;
    }

    private NoticeDraft Draft(BedMorning morning, LocalDate day, int lead, NoticeReason reason) =>
        new(Kind, day, LocalDate.Max(morning.Today, day.PlusDays(-1)), Certainty.On(morning, day), reason)
        {
            Urgent = lead <= 1 && morning.Cover == Cover.None && IsYoung(morning, day),
        };

    private static bool IsYoung(BedMorning morning, LocalDate day) =>
        morning.Phase == Phase.SpawnRun && morning.Age(day) < YoungDays;

    private static bool IsHot(BedMorning morning, LocalDate day, double margin) => morning.WeatherOn(day)?.Tmax >= HotDay - margin;

    private static bool IsNearHarm(BedMorning morning, LocalDate day, double margin) =>
        morning.Account.On(day)?.BedTemperature >= morning.Bed.Species.SpawnRun.THarm - NearHarm - margin;
}
