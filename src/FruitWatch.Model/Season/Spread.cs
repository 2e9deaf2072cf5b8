using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>
/// What came out of several years, from low to high: the 10th, 50th and 90th percentile (nearest rank, so each is a value of
/// one of the years). A year in which it did not happen counts as later than all others; null says that the percentile falls
/// into such a year.
/// </summary>
/// <param name="P10">One in ten is at or below.</param>
/// <param name="P50">Half are at or below.</param>
/// <param name="P90">Nine in ten are at or below.</param>
public readonly record struct Spread(double? P10, double? P50, double? P90)
{
    /// <summary>The spread of some years' values; null for a year in which it did not happen.</summary>
    internal static Spread Of(double?[] values)
    {
        if (values.Length == 0)
            return default;
        Array.Sort(values, static (a, b) => (a ?? double.PositiveInfinity).CompareTo(b ?? double.PositiveInfinity));
        return new Spread(At(values, 1), At(values, 5), At(values, 9));
    }

    // In tenths and whole numbers: 0.9·10 in doubles may round up past its rank.
    private static double? At(double?[] sorted, int tenths) => sorted[(sorted.Length * tenths + 9) / 10 - 1];
}

/// <summary>The same as dates.</summary>
/// <param name="P10">One in ten is on this day or before.</param>
/// <param name="P50">Half are.</param>
/// <param name="P90">Nine in ten are.</param>
public readonly record struct DateSpread(LocalDate? P10, LocalDate? P50, LocalDate? P90);
