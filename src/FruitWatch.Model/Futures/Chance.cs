using System.Runtime.CompilerServices;

namespace FruitWatch.Model.Futures;

/// <summary>Chances told from a count of futures. 0…1</summary>
public static class Chance
{
    /// <summary>Chance of what happens in some of the futures: (k + ½)/(n + 1), never 0 and never 1.</summary>
    /// <param name="k">Futures in which it happens. 0…<paramref name="n"/></param>
    /// <param name="n">All futures. 1…</param>
    /// <remarks>
    /// A plotting position: n futures out of infinitely many cannot show that a thing is certain or impossible. With four of
    /// them the chances run from 0.1 to 0.9 in steps of a fifth.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">No futures at all, fewer than none with the event, or more with it than there are.</exception>
    public static double Of(int k, int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(k);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(k, n);
        return (k + 0.5) / (n + 1.0);
    }

    /// <summary>The chance itself, if it is one.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Below 0, above 1, or not a number.</exception>
    internal static double Checked(double chance, [CallerArgumentExpression(nameof(chance))] string? name = null) =>
        chance is >= 0 and <= 1 ? chance : throw new ArgumentOutOfRangeException(name, chance, "A chance lies within 0…1.");
}
