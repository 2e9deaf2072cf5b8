namespace FruitWatch.Model.Outlooks;

/// <summary>Ranges over the futures by day.</summary>
/// <param name="Moisture">Relative moisture of the layer: 0 at the lower limit, 1 at container capacity.</param>
/// <param name="BedTemperature">Mean temperature of the bed. [°C]</param>
public sealed record OutlookFans(Fan Moisture, Fan BedTemperature);

/// <summary>The middle 80 % of the futures by day: 10, 50 and 90 %.</summary>
public sealed class Fan
{
    private readonly double[] low;
    private readonly double[] middle;
    private readonly double[] high;
    private readonly double[] sorted;

    /// <summary>Makes room.</summary>
    internal Fan(int days, int members)
    {
        low = new double[days];
        middle = new double[days];
        high = new double[days];
        sorted = new double[members];
    }

    /// <summary>Ten per cent of the futures lie below.</summary>
    public IReadOnlyList<double> Low => low;

    /// <summary>Half of the futures lie below.</summary>
    public IReadOnlyList<double> Middle => middle;

    /// <summary>Ten per cent of the futures lie above.</summary>
    public IReadOnlyList<double> High => high;

    internal void Set(int day, ReadOnlySpan<double> futures)
    {
        futures.CopyTo(sorted);
        Array.Sort(sorted);
        low[day] = At(0.1);
        middle[day] = At(0.5);
        high[day] = At(0.9);
    }

    /// <summary>Between the two neighbours in rank, in a straight line (Hyndman and Fan 1996, definition 7).</summary>
    private double At(double share)
    {
        var rank = share * (sorted.Length - 1);
        var below = (int)rank;
        return below + 1 >= sorted.Length ? sorted[^1] : sorted[below] + (rank - below) * (sorted[below + 1] - sorted[below]);
    }
}
