using FruitWatch.Model.Account;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>When pins or a flush are expected, and how far the day may be off.</summary>
internal static class FlushWindow
{
    /// <summary>Told at most so far ahead: the day's own error is then about as large as a week. [d]</summary>
    public const int ToldWithinDays = 10;

    /// <summary>A move of the day by so much is told again. Chosen. [d]</summary>
    public const int MoveDays = 3;

    /// <summary>The day of an event that the account reaches within the forecast, soon enough to open a notice or to keep one.</summary>
    /// <param name="morning">The bed.</param>
    /// <param name="what">Pins or harvest.</param>
    /// <param name="last">Last phase before the event.</param>
    /// <param name="days">Length of that phase at its best. [d]</param>
    /// <param name="kept">
    /// A notice is open. It then holds for any day of the forecast, and for a bed that is still on its way when the forecast
    /// ends; a new one wants two days of the forecast to spare, so that it is not withdrawn for a day's delay.
    /// </param>
    public static LocalDate? Expected(BedMorning morning, AccountEvent what, Phase last, double days, bool kept)
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

    public static NoticeReason Reason(ReasonCode code, int lead) => NoticeReason.Of(
        code,
        (ReasonNumber.Days, lead),
        (ReasonNumber.EarlyDays, Math.Min(lead, HalfWidth(lead))),
        (ReasonNumber.LateDays, HalfWidth(lead)));
}
