using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Mapping;

/// <summary>
/// Puts the readings of a series in order on the UTC time line, settles readings given twice, and gives each the stretch
/// of time it stands for.
/// </summary>
/// <param name="description">How the feed answers.</param>
/// <param name="siteDays">The site's civil days.</param>
/// <param name="dateDays">The days that the answer's own dates mean.</param>
/// <param name="lastDate">Anything later is left out.</param>
/// <param name="notes">Where oddities go.</param>
internal sealed class SlotCutter(
    FeedDescription description, SiteDays siteDays, SiteDays dateDays, LocalDate lastDate, NoteBook notes)
{
    /// <summary>A stamped value; null where the feed has none, or gives two that differ.</summary>
    private sealed record Reading(Instant Start, Instant End, double? Value, FeedCell Cell, bool Conflict = false);

    public IReadOnlyList<Slot> Cut(SeriesCells cells, IReadOnlyList<Stamp> stamps, ValueReader values)
    {
        var readings = new List<Reading>(stamps.Count);
        var alternatives = cells.Series.Alternatives.Count > 0 ? new AlternativeChooser(cells.Series.Alternatives, stamps) : null;
        for (var i = 0; i < stamps.Count; i++)
        {
            var cell = cells.Cells[i];
            if (IsBeyond(cells, cell, stamps[i]))
                continue;
            Duration? period = null;
            if (alternatives is not null && !alternatives.Choose(ref cell, stamps[i].At, out period))
                continue;
            var (start, end) = Stretch(cells, cell, stamps[i], period);
            var value = values.Read(cell, out var rejected);
            // A reading thrown out is as if it had not come: the one before holds on, at most as long as maxGap says. A hole in
            // the list, where the feed itself says that it has nothing, ends it.
            if (!rejected || cells.Series.Support != Support.Instant)
                readings.Add(new Reading(start, end, value, cell));
        }
        var settled = Settle(cells, readings);
        return cells.Series.Support switch
        {
            Support.Instant => Instants(cells, settled),
            Support.Counter => Rises(cells, settled),
            // A date the country left out has no length, and nothing can have fallen on it.
            _ => [.. settled.Where(one => one.Value is not null && one.End > one.Start)
                .Select(one => SlotOf(cells, one.Start, one.End, one.Value!.Value, one.Cell))],
        };
    }

    private bool IsBeyond(SeriesCells cells, FeedCell cell, Stamp stamp)
    {
        var date = stamp.Date ?? siteDays.DateOf(stamp.At);
        if (date <= lastDate)
            return false;
        var day = LocalDatePattern.Iso.Format(date);
        if (description.Provides == FeedProvides.History)
            notes.Add(FeedCodes.TimeFutureDated, "time", $"Past weather dated {day}, after today; left out.", cells.TimePlace(cell));
        else
            notes.Add(FeedCodes.TimeTooFarAhead, "time", $"A forecast for {day}, beyond the horizon described; left out.", cells.TimePlace(cell));
        return true;
    }

    private (Instant Start, Instant End) Stretch(SeriesCells cells, FeedCell cell, Stamp stamp, Duration? chosen)
    {
        if (stamp.Date is { } date)
            return dateDays.Window(date, DayEnds(cells, cell));
        if (stamp.End is { } end)
            return (stamp.At, end);
        var period = chosen ?? cells.Series.Period ?? Duration.Zero;
        return cells.Series.Support == Support.Preceding ? (stamp.At - period, stamp.At) : (stamp.At, stamp.At + period);
    }

    private int DayEnds(SeriesCells cells, FeedCell cell)
    {
        if (string.IsNullOrWhiteSpace(cell.DayEnds))
            return description.Time.DayEnds;
        return TimeDescription.Minutes(cell.DayEnds.Trim()) ?? throw new FeedException(
            FeedCodes.TimeUnparseable,
            $"\"{FailureDescription.Quoted(cell.DayEnds)}\", where the day's end should be, is not a time of day.",
            cells.TimePlace(cell),
            "Correct the row, or remove time.dayEndsColumn from the description.");
    }

    private List<Reading> Settle(SeriesCells cells, List<Reading> readings)
    {
        var settled = new List<Reading>(readings.Count);
        foreach (var reading in readings.OrderBy(one => one.Start).ThenBy(one => one.End))
        {
            if (settled.Count > 0 && settled[^1].Start == reading.Start && settled[^1].End == reading.End)
                settled[^1] = Merge(cells, settled[^1], reading);
            else
                settled.Add(reading);
        }
        return settled;
    }

    private Reading Merge(SeriesCells cells, Reading first, Reading second)
    {
        notes.Add(FeedCodes.TimeDuplicate, cells.About, $"The same time comes twice in {cells.Series.Name}.", cells.TimePlace(second.Cell));
        if (first.Conflict || second.Value is null)
            return first;
        if (first.Value is null || first.Value == second.Value)
            return second;
        notes.Add(
            FeedCodes.TimeDuplicateConflict,
            cells.About,
            $"The same time comes twice in {cells.Series.Name} with different values; left unknown.",
            cells.ValuePlace(second.Cell));
        return first with { Value = null, Conflict = true };
    }

    private static List<Slot> Instants(SeriesCells cells, List<Reading> readings)
    {
        var slots = new List<Slot>(readings.Count);
        var step = Duration.Zero;
        for (var i = 0; i < readings.Count; i++)
        {
            // The last reading is taken to hold as long as the one before it did.
            if (i + 1 < readings.Count)
                step = Duration.Min(readings[i + 1].Start - readings[i].Start, cells.Series.MaxGap);
            if (readings[i].Value is { } value)
                slots.Add(SlotOf(cells, readings[i].Start, readings[i].Start + step, value, readings[i].Cell));
        }
        return slots;
    }

    private List<Slot> Rises(SeriesCells cells, List<Reading> readings)
    {
        var slots = new List<Slot>(readings.Count);
        (Instant At, double Total, FeedCell Cell)? before = null;
        foreach (var reading in readings)
        {
            if (reading.Value is not { } total)
                continue;
            // Over a longer gap a reset may have gone unseen.
            if (before is { } last && reading.Start - last.At <= cells.Series.MaxGap)
            {
                // A fall is a reset: what stands there now has fallen since.
                var rise = total >= last.Total ? total - last.Total : total;
                if (rise >= 0 && rise <= cells.Series.Plausible.High)
                    slots.Add(SlotOf(cells, last.At, reading.Start, rise, reading.Cell) with { Before = last.Cell });
                else
                    notes.Add(
                        FeedCodes.ValueImplausible,
                        cells.About,
                        FormattableString.Invariant($"The counter rises by {rise:0.#} mm between two readings; left unknown."),
                        cells.ValuePlace(reading.Cell));
            }
            before = (reading.Start, total, reading.Cell);
        }
        return slots;
    }

    private static Slot SlotOf(SeriesCells cells, Instant start, Instant end, double value, FeedCell cell) =>
        new(start, end, value, cells, cell);
}
