namespace FruitWatch.Model.Verification;

/// <summary>Scores of a forecast told as a quantile, or as an interval between two, in the unit of the quantity. 0 at best.</summary>
/// <remarks>Gneiting and Raftery 2007, J. Am. Stat. Assoc. 102:359–378, eq. 41 and 43.</remarks>
public static class IntervalScore
{
    /// <summary>Score of a central interval: its width, and 2/α for every unit by which it was missed.</summary>
    /// <param name="low">Lower end.</param>
    /// <param name="high">Upper end, at least <paramref name="low"/>.</param>
    /// <param name="alpha">Chance of lying outside, 0.2 for the 10–90 % interval. Above 0, below 1</param>
    /// <param name="observed">What came.</param>
    public static double Of(double low, double high, double alpha, double observed)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Finite.Checked(low), Finite.Checked(high));
        Finite.Checked(observed);
        CheckInside(alpha, nameof(alpha));
        return high - low + 2 / alpha * (Math.Max(0, low - observed) + Math.Max(0, observed - high));
    }

    /// <summary>Score of one quantile, also pinball loss: τ for every unit too low, 1 − τ for every unit too high.</summary>
    /// <param name="level">Chance τ that the quantity lies below the quantile. Above 0, below 1</param>
    /// <param name="quantile">The forecast.</param>
    /// <param name="observed">What came.</param>
    public static double OfQuantile(double level, double quantile, double observed)
    {
        CheckInside(level, nameof(level));
        Finite.Checked(quantile);
        Finite.Checked(observed);
        return observed >= quantile ? level * (observed - quantile) : (1 - level) * (quantile - observed);
    }

    private static void CheckInside(double share, string name)
    {
        if (!(share is > 0 and < 1))
            throw new ArgumentOutOfRangeException(name, share, "Must lie between 0 and 1, both left out.");
    }
}
