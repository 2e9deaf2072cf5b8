namespace FruitWatch.Model.Verification;

/// <summary>
/// Area under the relative operating characteristic: the chance that of an event and a non-event the event had been given the
/// higher chance. ½ without skill, 1 at best; it tells nothing about reliability.
/// </summary>
/// <remarks>Mason and Graham 2002, Q. J. R. Meteorol. Soc. 128:2145–2166: by ranks, a tie counting one half.</remarks>
public static class RocArea
{
    /// <summary>The area. 0…1; null where the event came always or never.</summary>
    /// <param name="chances">Chances that were issued, or any figure that grows with them.</param>
    /// <param name="outcomes">Whether the event happened, in the same order.</param>
    public static double? Of(ReadOnlySpan<double> chances, ReadOnlySpan<bool> outcomes)
    {
        Pairs.Check(chances.Length, outcomes.Length);
        foreach (var chance in chances)
            Finite.Checked(chance, nameof(chances));
        var sorted = chances.ToArray();
        var came = outcomes.ToArray();
        Array.Sort(sorted, came);

        long events = 0, others = 0;
        double won = 0;
        for (var from = 0; from < sorted.Length;)
        {
            long tiedEvents = 0, tiedOthers = 0;
            var to = from;
            for (; to < sorted.Length && sorted[to].Equals(sorted[from]); to++)
            {
                if (came[to])
                    tiedEvents++;
                else
                    tiedOthers++;
            }

            won += (double)tiedEvents * others + 0.5 * tiedEvents * tiedOthers;
            events += tiedEvents;
            others += tiedOthers;
            from = to;
        }

        return events == 0 || others == 0 ? null : won / ((double)events * others);
    }
}
