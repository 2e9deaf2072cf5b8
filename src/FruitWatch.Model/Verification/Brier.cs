using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>Brier score of chances: the mean square of chance minus outcome, the outcome being 1 or 0.</summary>
/// <remarks>Brier 1950, Mon. Wea. Rev. 78:1–3, in the half form that is usual today.</remarks>
public static class Brier
{
    /// <summary>The score. 0 (certain and right) … 1 (certain and wrong)</summary>
    /// <param name="chances">Chances that were issued. 0…1</param>
    /// <param name="outcomes">Whether the event happened, in the same order.</param>
    /// <exception cref="ArgumentException">Not as many outcomes as chances, or none.</exception>
    public static double Score(ReadOnlySpan<double> chances, ReadOnlySpan<bool> outcomes)
    {
        Pairs.CheckSome(chances.Length, outcomes.Length);
        double sum = 0;
        for (var i = 0; i < chances.Length; i++)
            sum += Of(chances[i], outcomes[i]);
        return sum / chances.Length;
    }

    /// <summary>The score of a single chance. 0…1</summary>
    public static double Of(double chance, bool outcome)
    {
        var error = Chance.Checked(chance) - (outcome ? 1 : 0);
        return error * error;
    }

    /// <summary>Skill against a reference: 1 − score/reference. 1 at best, 0 no better than the reference, below 0 worse.</summary>
    /// <param name="score">Score of the forecasts. 0…</param>
    /// <param name="reference">Score of the reference on the same cases. 0…</param>
    /// <returns>Null where the reference is never wrong: it leaves nothing to be better at.</returns>
    public static double? Skill(double score, double reference) => reference == 0 ? null : 1 - score / reference;

    /// <summary>Parts of the score, with a class for every chance that was issued.</summary>
    /// <param name="chances">Chances that were issued. 0…1</param>
    /// <param name="outcomes">Whether the event happened, in the same order.</param>
    /// <exception cref="ArgumentException">Not as many outcomes as chances, or none.</exception>
    public static MurphyDecomposition Decompose(ReadOnlySpan<double> chances, ReadOnlySpan<bool> outcomes)
    {
        Pairs.CheckSome(chances.Length, outcomes.Length);
        var counts = new SortedDictionary<double, (int Cases, int Events)>();
        for (var i = 0; i < chances.Length; i++)
        {
            var (cases, events) = counts.GetValueOrDefault(Chance.Checked(chances[i], nameof(chances)));
            counts[chances[i]] = (cases + 1, events + (outcomes[i] ? 1 : 0));
        }

        return MurphyDecomposition.Of(
            [.. counts.Select(c => new ForecastClass(c.Key, c.Value.Cases, (double)c.Value.Events / c.Value.Cases))]);
    }
}
