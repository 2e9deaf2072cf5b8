namespace FruitWatch.Model.Outlooks;

/// <summary>
/// What a grower still waits for, by the account and the log: which futures have what is waited for behind them already. In a bed that
/// nobody has looked at, some futures run ahead of the account; pins that stand in them are pins to be found today, not in the next flush.
/// </summary>
/// <param name="Pins">No pins of the flush that comes or stands have been seen.</param>
/// <param name="Harvest">Nothing of the flush that comes or stands has been picked.</param>
/// <param name="Flushes">Flushes that are over by the account.</param>
public readonly record struct FlushAwaited(bool Pins, bool Harvest, int Flushes)
{
    /// <summary>Nothing is waited for but what the days to come bring.</summary>
    public static FlushAwaited Nothing { get; } = new(false, false, int.MaxValue);
}
