namespace FruitWatch.Model.Futures;

/// <summary>Chances read off futures.</summary>
public static class Chance
{
    /// <summary>Chance of what happens in <paramref name="k"/> of <paramref name="n"/> futures, never 0 or 1: (k + ½)/(n + 1).</summary>
    public static double Of(int k, int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(k);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(k, n);
        return (k + 0.5) / (n + 1);
    }
}
