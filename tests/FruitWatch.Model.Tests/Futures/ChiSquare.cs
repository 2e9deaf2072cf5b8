namespace FruitWatch.Model.Tests.Futures;

/// <summary>Pearson's test for counts that should be even.</summary>
internal static class ChiSquare
{
    /// <summary>Exceeded once in a thousand with 20 classes (19 degrees of freedom); any table of χ².</summary>
    public const double OneInAThousand19 = 43.82;

    public static double Of(int[] counts)
    {
        var expected = counts.Average();
        return counts.Sum(count => (count - expected) * (count - expected)) / expected;
    }
}
