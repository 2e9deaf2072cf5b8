using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Mapping;

/// <summary>
/// Makes the local days of one quantity from slots. All arithmetic is done on the UTC time line, so that the days of a clock
/// change have the hours they have.
/// </summary>
internal sealed class DayReducer(SiteDays days, DailyDescription daily, NoteBook notes, bool explain)
{
    // A single value stands for its day from this length on; shorter ones cover what they cover.
    private static readonly Duration Window = Duration.FromHours(12);

    private readonly Dictionary<LocalDate, DayTotals> totals = [];

    /// <param name="slots">The slots of every series the quantity is made from.</param>
    public IReadOnlyDictionary<LocalDate, FeedValue> Reduce(IReadOnlyList<Slot> slots)
    {
        totals.Clear();
        foreach (var slot in slots)
            Take(slot);
        var unknown = daily.Reduce == Describing.Reduce.Sum ? DatesOfOverlaps(slots) : [];
        var values = new Dictionary<LocalDate, FeedValue>();
        foreach (var (date, total) in totals)
        {
            var length = days.EndOf(date) - days.StartOf(date);
            if (!unknown.Contains(date) && total.Value(daily.Reduce, length, daily.MinCoverage) is { } value)
                values.Add(date, value);
        }
        return values;
    }

    private void Take(Slot slot)
    {
        switch (AssignOf(slot))
        {
            case Assign.Spread:
                Spread(slot);
                break;
            case Assign.End:
                Whole(slot, days.DateOf(slot.End - Duration.Epsilon));
                break;
            case Assign.Within:
                var date = days.DateOf(slot.Start);
                if (slot.End <= days.EndOf(date))
                    Clip(slot, date, 1);
                break;
            case Assign.Midpoint:
                Whole(slot, days.DateOf(slot.Start + (slot.Length / 2)));
                break;
            default:
                OwnDate(slot);
                break;
        }
    }

    /// <summary>How a slot finds its day; null for a reading of a moment, which belongs to the moment's own date.</summary>
    private Assign? AssignOf(Slot slot) => slot.Series.Support switch
    {
        Support.Instant => daily.Reduce == Describing.Reduce.Mean && slot.Length > Duration.Zero ? Assign.Spread : null,
        Support.Day => daily.Assign ?? Assign.Midpoint,
        _ => daily.Assign ?? (daily.Reduce is Describing.Reduce.Max or Describing.Reduce.Min ? Assign.Midpoint : Assign.Spread),
    };

    private void OwnDate(Slot slot)
    {
        At(days.DateOf(slot.Start)).Take(slot, 1, Duration.Zero);
        foreach (var date in DatesOf(slot))
            At(date).Cover(Instant.Max(slot.Start, days.StartOf(date)), Instant.Min(slot.End, days.EndOf(date)));
    }

    private void Spread(Slot slot)
    {
        foreach (var date in DatesOf(slot))
        {
            var overlap = Instant.Min(slot.End, days.EndOf(date)) - Instant.Max(slot.Start, days.StartOf(date));
            Clip(slot, date, overlap / slot.Length);
        }
    }

    private void Clip(Slot slot, LocalDate date, double share)
    {
        var (start, end) = (Instant.Max(slot.Start, days.StartOf(date)), Instant.Min(slot.End, days.EndOf(date)));
        At(date).Take(slot, share, end - start);
        At(date).Cover(start, end);
    }

    private void Whole(Slot slot, LocalDate date)
    {
        At(date).Take(slot, 1, slot.Length);
        var nominal = slot.Series.Period ?? slot.Length;
        if (slot.Series.Support == Support.Day)
            At(date).CoverShare(1);
        else if (nominal >= Window)
            At(date).CoverShare(slot.Length / nominal);
        else
            At(date).Cover(Instant.Max(slot.Start, days.StartOf(date)), Instant.Min(slot.End, days.EndOf(date)));
    }

    private HashSet<LocalDate> DatesOfOverlaps(IReadOnlyList<Slot> slots)
    {
        var dates = new HashSet<LocalDate>();
        Slot? longest = null;
        foreach (var slot in slots.Where(one => one.Series.Support != Support.Day).OrderBy(one => one.Start))
        {
            if (longest is not null && slot.Start < longest.End)
            {
                notes.Add(
                    FeedCodes.TimeOverlap,
                    daily.Quantity.ToString(),
                    "Two totals cover the same time; the days they touch are left unknown.",
                    slot.Place());
                dates.UnionWith(DatesOf(slot).Concat(DatesOf(longest)));
            }
            longest = longest is null || slot.End > longest.End ? slot : longest;
        }
        return dates;
    }

    /// <summary>The days a slot touches; none for a slot of no length.</summary>
    private IEnumerable<LocalDate> DatesOf(Slot slot)
    {
        for (var date = days.DateOf(slot.Start); days.StartOf(date) < slot.End; date = date.PlusDays(1))
        {
            if (days.EndOf(date) > days.StartOf(date))
                yield return date;
        }
    }

    private DayTotals At(LocalDate date)
    {
        if (!totals.TryGetValue(date, out var total))
            totals[date] = total = new DayTotals(explain);
        return total;
    }
}
