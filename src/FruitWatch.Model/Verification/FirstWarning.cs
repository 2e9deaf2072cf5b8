using NodaTime;

namespace FruitWatch.Model.Verification;

/// <summary>A chance of pins that was issued, and the day of the next pins from then on; null where none are known.</summary>
public readonly record struct IssuedChance(LocalDate Issued, double Chance, LocalDate? Pins);

/// <summary>How long before pins they were first announced, and from then on without a break.</summary>
public static class FirstWarning
{
    /// <summary>Days from first warning to pins, for a bed's forecasts of one lead.</summary>
    /// <param name="forecasts">In order of issue.</param>
    /// <param name="lead">Within how many days they forecast pins, the day of issue included. [d]</param>
    /// <returns>
    /// For each forecast; null but for the first hit of every pins that were announced, so that each pins count once. A warning
    /// that was taken back is not the first. It may be earlier than the lead: then it was a false alarm at first.
    /// </returns>
    public static IReadOnlyList<int?> LeadDays(IReadOnlyList<IssuedChance> forecasts, int lead)
    {
        ArgumentNullException.ThrowIfNull(forecasts);
        var leadDays = new int?[forecasts.Count];
        for (var from = 0; from < forecasts.Count;)
        {
            var pins = forecasts[from].Pins;
            var to = from;
            while (to < forecasts.Count && forecasts[to].Pins == pins)
                to++;
            if (pins is { } day)
                Mark(forecasts, leadDays, from, to, day, lead);
            from = to;
        }

        return leadDays;
    }

    private static void Mark(IReadOnlyList<IssuedChance> forecasts, int?[] leadDays, int from, int to, LocalDate pins, int lead)
    {
        var first = to;
        while (first > from && forecasts[first - 1].Chance >= PinsScores.YesFrom)
            first--;
        for (var hit = first; hit < to; hit++)
        {
            if (Period.DaysBetween(forecasts[hit].Issued, pins) < lead)
            {
                leadDays[hit] = Period.DaysBetween(forecasts[first].Issued, pins);
                return;
            }
        }
    }
}
