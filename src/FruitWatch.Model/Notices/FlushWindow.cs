using FruitWatch.Model.Account;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>When pins or a flush are expected, and how far the day may be off.</summary>
internal static class FlushWindow
{
    /// <summary>Told at most so far ahead: the day's own error is then about as large as a week. [d]</summary>
    public const int ToldWithinDays = 10;

    /// <summary>A move of the day by so much is told again. Chosen. [d]</summary>
    public const int MoveDays = 3;

    /// <summary>
    /// Share of the futures in which it is to happen for a notice to open. Chosen below a half: a look for nothing costs a walk, pins
    /// that nobody looked for cost the flush.
    /// </summary>
    public const double Opens = 1.0 / 3;

    /// <summary>Share of the futures that keeps an open notice. Chosen, so that it does not flap.</summary>
    public const double Keeps = 0.2;

    /// <summary>Chance from which it is called likely. Chosen.</summary>
    public const double LikelyFrom = 0.8;

    /// <summary>The notice of an event that is expected soon enough to open it or to keep it; null where it is not.</summary>
    /// <param name="morning">The bed.</param>
    /// <param name="kind">Of the notice.</param>
    /// <param name="what">Pins or harvest.</param>
    /// <param name="last">Last phase before the event.</param>
    /// <param name="days">Length of that phase at its best. [d]</param>
    /// <param name="kept">A notice is open.</param>
    /// <param name="code">Of the reason.</param>
    public static NoticeDraft? Expected(
        BedMorning morning, NoticeKind kind, AccountEvent what, Phase last, double days, bool kept, ReasonCode code)
    {
        if (morning.Outlook is { } outlook)
            return InFutures(morning, kind, what == AccountEvent.Pins ? outlook.Alone.Pins : outlook.Alone.Harvest, kept, code);
        if (ByForecast(morning, what, last, days, kept) is not { } day)
            return null;

        var lead = morning.Lead(day);
        // A day within reach of the forecast says nothing firm: when pins form depends on more than the weather.
        var sure = morning.Phase == last && Certainty.On(morning, day) != NoticeConfidence.Possible
            ? NoticeConfidence.Likely
            : NoticeConfidence.Possible;
        return new NoticeDraft(kind, day, day.PlusDays(HalfWidth(lead)), sure, NoticeReason.Of(
            code,
            (ReasonNumber.Days, lead),
            (ReasonNumber.EarlyDays, Math.Min(lead, HalfWidth(lead))),
            (ReasonNumber.LateDays, HalfWidth(lead))));
    }

    /// <summary>
    /// In a third of the futures within ten days; the day is that by which half of those have it that have it at all in the days that are
    /// compared. The window runs from the day of one future in ten to that of nine in ten, but no
    /// further than outcomes are compared, and the chance is that of its end.
    /// </summary>
    private static NoticeDraft? InFutures(BedMorning morning, NoticeKind kind, EventOutlook expected, bool kept, ReasonCode code)
    {
        var farthest = morning.Today.PlusDays(WhatIf.Days - 1);
        var within = kept ? farthest : morning.Today.PlusDays(ToldWithinDays);
        if (expected.CountBy(within) < (kept ? Keeps : Opens) * expected.Members)
            return null;
        var day = expected.DateOf(0.5 * expected.CountBy(farthest) / expected.Members)!.Value;
        var until = LocalDate.Max(day, expected.DateOf(0.9) is { } late && late < farthest ? late : farthest);
        var chance = expected.ChanceBy(until);
        var sure = chance >= LikelyFrom && Certainty.On(morning, morning.Today) != NoticeConfidence.Possible
            ? NoticeConfidence.Likely
            : NoticeConfidence.Possible;
        return new NoticeDraft(kind, day, until, sure, NoticeReason.Of(
            code,
            (ReasonNumber.Days, morning.Lead(day)),
            (ReasonNumber.EarlyDays, Math.Max(0, Period.DaysBetween(expected.DateOf(0.1)!.Value, day))),
            (ReasonNumber.LateDays, Period.DaysBetween(day, until)),
            (ReasonNumber.Chance, chance),
            (ReasonNumber.ChanceDays, morning.Lead(until))));
    }

    /// <summary>
    /// The day of an event that the single forecast reaches. An open notice holds for any day of the forecast, and for a bed that is
    /// still on its way when the forecast ends; a new one wants two days of the forecast to spare, so that it is not withdrawn for a
    /// day's delay.
    /// </summary>
    private static LocalDate? ByForecast(BedMorning morning, AccountEvent what, Phase last, double days, bool kept)
    {
        var end = morning.Lead(morning.LastDay);
        if (morning.Next(what) is { } day)
            return kept || morning.Lead(day) <= Math.Min(ToldWithinDays, end - 2) ? day : null;
        var then = morning.Account.Days[^1];
        return kept && morning.Phase == last && then.Phase == last
            ? then.Date.PlusDays(Math.Max(1, (int)Math.Ceiling((1 - then.Progress) * days)))
            : null;
    }

    /// <summary>
    /// Days by which the expected day may be off to either side: two for the account itself, more with the lead. At ten days
    /// it is five, which is the 80 % range of the 4 days of standard deviation that learning starts from. Derived, adjustable.
    /// </summary>
    public static int HalfWidth(int lead) => 2 + (int)Math.Ceiling(0.3 * lead);
}
