using FruitWatch.Model.Account;

namespace FruitWatch.Model.Learning;

/// <summary>When the account has pins by itself, pair by pair, since the grower last said where the bed stands.</summary>
internal sealed class PinsDates
{
    private const int None = -1;

    private readonly int[] last;
    private readonly int[] off;
    private readonly int[] same;
    private readonly BedState ahead;
    private readonly DayResult result;

    public PinsDates(int pairs)
    {
        last = new int[pairs];
        off = new int[pairs];
        same = [.. Enumerable.Range(0, pairs)];
        ahead = new BedState(pairs);
        result = new DayResult(pairs);
    }

    /// <summary>A new cycle: what came before has nothing to say about the next pins.</summary>
    public void Clear() => Array.Fill(last, None);

    /// <summary>Notes the pins of a day.</summary>
    public void Note(int day, DayResult events)
    {
        for (var pair = 0; pair < last.Length; pair++)
        {
            if (events.Events[pair] == AccountEvent.Pins)
                last[pair] = day;
        }
    }

    /// <summary>
    /// Weighs the pairs by how far their own pins lie from those seen. Pairs without go on as if the grower had seen nothing,
    /// until each has pins as near as any later ones could be, or the weather ends.
    /// </summary>
    /// <param name="seen">Day since inoculation on which pins were seen.</param>
    /// <param name="state">At the end of that day, before it is corrected; stays as it is.</param>
    /// <param name="unseen">Steps of the bed without what was seen at it.</param>
    /// <param name="past">The weather.</param>
    /// <param name="reach">Last day since inoculation with weather.</param>
    /// <param name="likelihood">Errors of dates.</param>
    /// <param name="logs">Gains the logarithm of each pair's likelihood.</param>
    public void Weigh(int seen, BedState state, BedStep unseen, SiteForcing past, int reach, Likelihood likelihood, Span<double> logs)
    {
        for (var pair = 0; pair < last.Length; pair++)
            off[pair] = last[pair] == None ? int.MaxValue : seen - last[pair];

        var followed = 0;
        ahead.StartFrom(state, same);
        while (followed < Math.Min(Likelihood.LookAheadDays, reach - seen) && AnyFurtherThan(followed + 1))
        {
            followed++;
            unseen.Advance(ahead, past, seen + followed, result);
            for (var pair = 0; pair < off.Length; pair++)
            {
                if (result.Events[pair] == AccountEvent.Pins)
                    off[pair] = Math.Min(off[pair], followed);
            }
        }

        var without = likelihood.OfPinsWithout(followed);
        for (var pair = 0; pair < off.Length; pair++)
            logs[pair] += off[pair] == int.MaxValue ? without : likelihood.OfPins(off[pair]);
    }

    private bool AnyFurtherThan(int days)
    {
        foreach (var distance in off)
        {
            if (distance > days)
                return true;
        }

        return false;
    }
}
