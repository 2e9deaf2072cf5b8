using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;

namespace FruitWatch.Model.Notices;

/// <summary>
/// Water the bed: left alone, it falls below its material's mark today or tomorrow, and the rain to come does not mend that.
/// </summary>
/// <remarks>
/// The mark is the material's (about half of the wet weight of chips; composting practice finds 50–60 % ideal and growth slow
/// below 40 %). The amount refills the layer to container capacity, less the rain of today and the next two days.
/// </remarks>
public sealed class WaterRule() : NoticeRule(NoticeKind.Water)
{
    /// <summary>Looks so far ahead for the mark: today and tomorrow. Common practice, no source. [d]</summary>
    public const int DryWithinDays = 1;

    /// <summary>Rain within so many days after it may mend a dry bed: spawn stands a dry day or two, and water is saved. Common practice, no source. [d]</summary>
    public const int MendingDays = 2;

    /// <summary>An open notice holds until the bed is so far above its mark. Chosen, so that it does not flap. [relative moisture]</summary>
    public const double KeptAbove = 0.05;

    /// <summary>Below this the layer sheds water, as in the bed's account; half, a wait and the other half wets it. [relative moisture]</summary>
    public const double ShedsBelow = 0.1;

    /// <summary>Up to here a can measures single litres, above it fives. Common practice. [L]</summary>
    public const double SingleLitresBelow = 20;

    /// <summary>A change by such a share of the amount told is told again. Chosen.</summary>
    public const double AmountChange = 0.5;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        // What the rain can do for a covered bed, the advice to uncover it does.
        if (CoverOffRule.RainForDryBed(morning) is not null)
            return null;
        if (DrySoon(morning, open) is not { } dry)
            return null;
        // Advice is the course with the better outcome: water that changes nothing worth having is not asked for.
        var whatIf = morning.Watering();
        if (whatIf?.IsAdvised(open is not null) == false)
            return null;

        var sheds = (morning.Now ?? dry).Moisture < ShedsBelow;
        return new NoticeDraft(Kind, morning.Today, dry.Date, Certainty.On(morning, dry.Date), NoticeReason.Of(
            ReasonCode.WaterLow,
            (ReasonNumber.Moisture, morning.Outlook?.Alone.SoonMoisture ?? dry.Moisture),
            (ReasonNumber.WaterMark, dry.WaterMark),
            (ReasonNumber.RainToCome, morning.RainAhead(MendingDays + 1)),
            (ReasonNumber.Days, MendingDays + 1),
            (ReasonNumber.Goes, sheds ? 2 : 1),
            (ReasonNumber.Covered, morning.Cover == Cover.None ? 0 : 1)).Quoting(whatIf, morning.Today))
        {
            Amount = ByTheCan(Refill(morning)),
        };
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open)
    {
        if (morning.Logged<WaterGiven>(open.FirstOn))
            return (NoticeEnd.Done, ClosingCode.Watered);
        if (morning.Now is { } now && now.Moisture < now.WaterMark)
            return (NoticeEnd.Withdrawn, ClosingCode.RainComing);
        var rained = SinceTold(morning, open).Sum(d => d.Rain) >= CoverOffRule.WetDay;
        return (NoticeEnd.Withdrawn, rained ? ClosingCode.RainCame : ClosingCode.MoistEnough);
    }

    /// <inheritdoc/>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now) =>
        told.Amount is { } litres && now.Amount is { } litresNow && Math.Abs(litresNow - litres) >= AmountChange * litres;

    /// <summary>
    /// Water that fills the layer to its container capacity, less the rain of today and the next two days. [L]; 0 where it is full
    /// </summary>
    public static double Refill(BedMorning morning)
    {
        ArgumentNullException.ThrowIfNull(morning);
        var refilled = morning.AtOrLast(morning.Today.PlusDays(MendingDays));
        return Math.Max(0, 1 - refilled.Moisture) * refilled.AvailableStore * morning.Bed.Area;
    }

    /// <summary>Litres as a can measures them; never none.</summary>
    public static double ByTheCan(double litres)
    {
        var step = litres < SingleLitresBelow ? 1 : 5;
        return Math.Max(1, step * Math.Round(litres / step, MidpointRounding.AwayFromZero));
    }

    /// <summary>The day on which the bed is dry: in half of its futures or more, where it has futures, else by the single forecast.</summary>
    private static AccountDay? DrySoon(BedMorning morning, OpenNotice? open)
    {
        if (morning.Outlook is not { } outlook)
            return Dry(morning, 0) ?? (open is null ? null : Dry(morning, KeptAbove));
        var dry = open is null ? outlook.Alone.DrySoon : outlook.Alone.NearlyDrySoon;
        return 2 * dry < outlook.Members
            ? null
            : Dry(morning, KeptAbove) ?? morning.AtOrLast(morning.Today.PlusDays(DryWithinDays));
    }

    /// <summary>The first day, today or tomorrow, at whose end the bed is dry and stays so; null where there is none.</summary>
    private static AccountDay? Dry(BedMorning morning, double margin)
    {
        foreach (var day in morning.Ahead(0, DryWithinDays))
        {
            if (day.Moisture >= day.WaterMark + margin)
                continue;
            var later = morning.AtOrLast(day.Date.PlusDays(MendingDays));
            return later.Moisture < later.WaterMark + margin ? day : null;
        }

        return null;
    }

    private static IEnumerable<AccountDay> SinceTold(BedMorning morning, OpenNotice open) =>
        morning.Ahead(morning.Lead(open.FirstOn), -1);
}
