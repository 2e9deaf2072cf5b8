using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Verification;

/// <summary>What a bed's log answers to a forecast of pins.</summary>
/// <param name="Came">Whether pins came within the lead.</param>
/// <param name="Pins">Day on which the next pins were seen, within the lead or after it; null where only looks are known that found none.</param>
/// <param name="NoneBefore">First day of which it is not known that there were no pins yet: that of the pins, or of the last look that found none.</param>
public readonly record struct PinsAnswer(bool Came, LocalDate? Pins, LocalDate NoneBefore);

/// <summary>
/// What a bed's log says of pins. A forecast is answered by pins seen within its days, or by a later look that shows there were
/// none: one that found none, or the pins of a later day, which were seen then for the first time. Mushrooms picked whose pins nobody
/// noted leave open when they came, and answer nothing.
/// </summary>
public sealed class PinsLog
{
    private readonly LogEntry[] entries;

    /// <summary>Takes what matters of a log.</summary>
    /// <param name="log">In any order, of any kinds.</param>
    public PinsLog(IEnumerable<LogEntry> log)
    {
        ArgumentNullException.ThrowIfNull(log);
        entries = [.. log.Where(entry => entry is PinsSeen or NoPinsFound or Picked).OrderBy(entry => entry.Date).ThenBy(entry => entry.Time)];
    }

    /// <summary>The answer; null where there is none.</summary>
    /// <param name="issued">Morning of issue: what was seen on that day was seen after it.</param>
    /// <param name="lead">Within how many days pins were forecast, the day of issue included. [d]</param>
    public PinsAnswer? Of(LocalDate issued, int lead)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(lead, 1);
        var last = issued.PlusDays(lead - 1);
        LocalDate? noneUntil = null;
        for (var i = FirstFrom(issued); i < entries.Length; i++)
        {
            switch (entries[i])
            {
                case NoPinsFound look:
                    noneUntil = look.Date;
                    break;
                case PinsSeen pins:
                    return new PinsAnswer(pins.Date <= last, pins.Date, pins.Date);
                default:
                    return None();
            }
        }

        return None();

        PinsAnswer? None() => noneUntil >= last ? new PinsAnswer(false, null, noneUntil.Value) : null;
    }

    private int FirstFrom(LocalDate date)
    {
        var (low, high) = (0, entries.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (entries[middle].Date < date)
                low = middle + 1;
            else
                high = middle;
        }

        return low;
    }
}
