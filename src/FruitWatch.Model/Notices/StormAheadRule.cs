using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>Wind ahead that lifts the cover of a bed: weigh it down, or take it off. Silent where the feed gives no wind.</summary>
/// <remarks>
/// A forecast of days has the day's mean wind. Its gusts reach about twice the mean (from memory, no source at hand), so that a day whose
/// mean at 10 m is a fresh breeze (Beaufort 5, from 8.0 m/s) has gusts of a gale (Beaufort 8, from 17.2 m/s; WMO-No. 306, code table
/// 1805). At 2 m, where the account has its wind, that is 6.0 m/s by FAO-56 eq. 47.
/// </remarks>
public sealed class StormAheadRule() : NoticeRule(NoticeKind.StormAhead)
{
    /// <summary>Mean wind of a day at 2 m whose gusts lift a cover. Derived from Beaufort 5 at 10 m. [m/s]</summary>
    public const double StormyDay = 6.0;

    /// <summary>Days that it looks ahead, today included. [d]</summary>
    public const int DaysAhead = 3;

    /// <summary>An open notice holds while the forecast is so near to the wind that counts. Chosen. [m/s]</summary>
    public const double KeptWithin = 0.7;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        if (morning.Cover == Cover.None)
            return null;
        return First(morning, 0) ?? (open is null ? null : First(morning, KeptWithin));
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (morning.Cover == Cover.None)
            return (NoticeEnd.Done, ClosingCode.Uncovered);
        return morning.Today > open.Day
            ? (NoticeEnd.Lapsed, ClosingCode.DayPassed)
            : (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    /// <summary>Told again on the eve, and for a new spell.</summary>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now)
    {
        if (now.Urgent && told.Reason[ReasonNumber.LeadDays] > 1)
            return morning.Today <= told.Day;
        return morning.Today > told.Day && !Unbroken(told.Day, now.Day, day => IsStormy(morning, day, KeptWithin));
    }

    private NoticeDraft? First(BedMorning morning, double margin)
    {
        for (var lead = 0; lead < DaysAhead; lead++)
        {
            var day = morning.Today.PlusDays(lead);
            if (IsStormy(morning, day, margin))
            {
                return new NoticeDraft(Kind, day, LocalDate.Max(morning.Today, day.PlusDays(-1)), Certainty.On(morning, day), NoticeReason.Of(
                    ReasonCode.WindLiftsCover,
                    (ReasonNumber.Wind, morning.WeatherOn(day)!.Wind!.Value),
                    (ReasonNumber.WindMark, StormyDay),
                    (ReasonNumber.LeadDays, lead)))
                { Urgent = lead <= 1 };
            }
        }

        return null;
    }

    private static bool IsStormy(BedMorning morning, LocalDate day, double margin) => morning.WeatherOn(day)?.Wind >= StormyDay - margin;
}
