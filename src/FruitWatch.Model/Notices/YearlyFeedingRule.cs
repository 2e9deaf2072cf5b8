using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>Give the bed its fresh material of the year: a year has gone by since the last, and no flush is on its way.</summary>
/// <remarks>Chips lose about a fifth of their depth in the first year and as much of their mass every year; straw far more.</remarks>
public sealed class YearlyFeedingRule() : NoticeRule(NoticeKind.YearlyFeeding)
{
    /// <summary>Common practice, no source. [years]</summary>
    public const int EveryYears = 1;

    /// <summary>After so long it is not asked again before the next year. Chosen. [d]</summary>
    public const int WaitsDays = 42;

    /// <inheritdoc/>
    public override bool LooksAhead => false;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last)
    {
        var filled = LastFilling(morning);
        if (open is not null && (filled >= open.FirstOn || morning.Today > open.Deadline))
            return null;
        // Not opened over a flush, but not withdrawn for one either.
        if (open is null && (CoverOffRule.IsFruiting(morning.Phase) || Due(morning, filled) is not { } due || last?.FirstOn >= due))
            return null;

        var day = open?.Day ?? morning.Today;
        return new NoticeDraft(Kind, day, day.PlusDays(WaitsDays), NoticeConfidence.Firm, NoticeReason.Of(
            ReasonCode.YearSinceFilling, (ReasonNumber.Days, -morning.Lead(filled))));
    }

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open) =>
        LastFilling(morning) >= open.FirstOn ? (NoticeEnd.Done, ClosingCode.ToppedUp) : (NoticeEnd.Lapsed, ClosingCode.DayPassed);

    /// <summary>The latest anniversary of the last filling; null in its first year.</summary>
    private static LocalDate? Due(BedMorning morning, LocalDate filled)
    {
        LocalDate? due = null;
        for (var years = EveryYears; filled.PlusYears(years) <= morning.Today; years += EveryYears)
            due = filled.PlusYears(years);
        return due;
    }

    private static LocalDate LastFilling(BedMorning morning) =>
        morning.Bed.Layers.Select(layer => layer.Laid)
            .Concat(morning.Log.OfType<ToppedUp>().Select(entry => entry.Date))
            .Where(date => date <= morning.Today)
            .DefaultIfEmpty(morning.Bed.Inoculated)
            .Max();
}
