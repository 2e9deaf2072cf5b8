namespace FruitWatch.Model.Verification;

/// <summary>Forecasts and outcomes come in pairs.</summary>
internal static class Pairs
{
    /// <exception cref="ArgumentException">Not as many outcomes as forecasts.</exception>
    public static void Check(int forecasts, int outcomes)
    {
        if (forecasts != outcomes)
            throw new ArgumentException($"There are {forecasts} forecasts and {outcomes} outcomes; each forecast needs its outcome.");
    }

    /// <exception cref="ArgumentException">Not as many outcomes as forecasts, or none.</exception>
    public static void CheckSome(int forecasts, int outcomes)
    {
        Check(forecasts, outcomes);
        if (forecasts == 0)
            throw new ArgumentException("A mean needs at least one forecast and its outcome.");
    }
}
