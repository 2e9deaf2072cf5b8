using FruitWatch.Model.Account;

namespace FruitWatch.Model.Learning;

/// <summary>When the account has pins by itself, pair by pair, since the grower last said which phase the bed is in.</summary>
internal sealed class PinsDates
{
    private const int None = -1;

    private readonly Likelihood likelihood;
    private readonly int[] last;
    private readonly int[] off;
    private readonly double[] none; // what looks that found none made of the pins that stand
    private readonly int[] same;
    private readonly BedState ahead;
    private readonly DayResult result;
    private bool sincePinsSeen;

    public PinsDates(int pairs, Likelihood likelihood)
    {
        this.likelihood = likelihood;
        last = new int[pairs];
        off = new int[pairs];
        none = new double[pairs];
        same = [.. Enumerable.Range(0, pairs)];
        ahead = new BedState(pairs);
        result = new DayResult(pairs);
    }

    /// <summary>A new cycle: what came before has nothing to say about the next pins.</summary>
    /// <param name="pinsSeen">It counts from pins that were seen.</param>
    public void Begin(bool pinsSeen)
    {
        Array.Fill(last, None);
        Array.Clear(none);
        sincePinsSeen = pinsSeen;
    }

    /// <summary>Notes the pins of a day.</summary>
    public void Note(int day, DayResult events)
    {
        for (var pair = 0; pair < last.Length; pair++)
        {
            if (events.Events[pair] == AccountEvent.Pins)
                (last[pair], none[pair]) = (day, 0);
        }
    }

    /// <summary>Whether a pair's last pins formed after a day.</summary>
    public bool CameAfter(int day, int pair) => last[pair] > day;

    /// <summary>
    /// Weighs the pairs in which pins stand that a look did not find: the longer they have stood, the less likely. Of several looks at the
    /// same pins the last one counts, which says all that the others said.
    /// </summary>
    /// <param name="day">Day since inoculation of the look.</param>
    /// <param name="account">At the end of that day.</param>
    /// <param name="logs">Gains the logarithm of each pair's likelihood.</param>
    public void WeighNone(int day, BedState account, Span<double> logs)
    {
        for (var pair = 0; pair < last.Length; pair++)
        {
            if (last[pair] == None || account.Phases[pair] is not (Phase.Growing or Phase.Picking))
                continue;
            var likely = likelihood.OfNoPins(day - last[pair], sincePinsSeen);
            logs[pair] += likely - none[pair];
            none[pair] = likely;
        }
    }

    /// <summary>
    /// Weighs the pairs by how far their own pins lie from those seen. Pairs without go on as if the grower had seen nothing,
    /// until each has pins as near as any later ones could be, or the weather ends.
    /// </summary>
    /// <param name="seen">Day since inoculation on which pins were seen.</param>
    /// <param name="account">At the end of that day, before it is corrected; stays as it is.</param>
    /// <param name="unseen">The bed from that day on.</param>
    /// <param name="logs">Gains the logarithm of each pair's likelihood.</param>
    public void Weigh(int seen, BedState account, UnseenAccount unseen, Span<double> logs)
    {
        for (var pair = 0; pair < off.Length; pair++)
            off[pair] = last[pair] == None ? int.MaxValue : seen - last[pair];

        var followed = 0;
        ahead.StartFrom(account, same);
        while (followed < Math.Min(UnseenAccount.MostDays, unseen.LastDay - seen) && AnyFurtherThan(followed + 1))
        {
            followed++;
            unseen.Advance(ahead, seen + followed, result);
            for (var pair = 0; pair < off.Length; pair++)
            {
                if (result.Events[pair] == AccountEvent.Pins)
                    off[pair] = Math.Min(off[pair], followed);
            }
        }

        var without = likelihood.OfPinsWithout(followed, sincePinsSeen);
        for (var pair = 0; pair < off.Length; pair++)
            // The day on which they were found says more than that they were not found before.
            logs[pair] += (off[pair] == int.MaxValue ? without : likelihood.OfPins(off[pair], sincePinsSeen)) - none[pair];
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

/// <summary>The bed as it would go on had its grower seen nothing: what was done to it counts, what was seen at it does not.</summary>
/// <param name="step">Steps of a plan without anything that was seen.</param>
/// <param name="past">The site's weather.</param>
/// <param name="lastDay">Last day since inoculation that plan and weather cover.</param>
internal sealed class UnseenAccount(BedStep step, SiteForcing past, int lastDay)
{
    /// <summary>Most days to look ahead for pins. [d]</summary>
    public const int MostDays = 20;

    public int LastDay => lastDay;

    public void Advance(BedState state, int day, DayResult result) => step.Advance(state, past, day, result);
}
