namespace FruitWatch.Service.Charts;

/// <summary>Values from bottom to top.</summary>
internal sealed class ValueAxis
{
    private const int MostSteps = 6;
    private readonly double top;
    private readonly double height;

    /// <summary>An axis that holds two values and ends on round numbers.</summary>
    public ValueAxis(double low, double high, double top, double height)
    {
        this.top = top;
        this.height = height;
        Step = NiceStep((high - low) / MostSteps);
        Low = Math.Floor(low / Step) * Step;
        High = Math.Max(Math.Ceiling(high / Step) * Step, Low + Step);
    }

    public double Low { get; }

    public double High { get; }

    public double Step { get; }

    public double Y(double value) => top + height * (High - value) / (High - Low);

    public IEnumerable<double> Ticks()
    {
        for (var i = 0; Low + i * Step <= High + Step / 2; i++)
            yield return Low + i * Step;
    }

    private static double NiceStep(double atLeast)
    {
        var size = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(atLeast, 1e-6))));
        return size * (atLeast / size <= 1 ? 1 : atLeast / size <= 2 ? 2 : atLeast / size <= 5 ? 5 : 10);
    }
}
