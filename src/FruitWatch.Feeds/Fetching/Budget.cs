namespace FruitWatch.Feeds.Fetching;

/// <summary>The time one fetch has for all it asks: steps, redirects and retries. Waiting for others of us is not counted.</summary>
internal sealed class Budget(TimeSpan total, TimeProvider time)
{
    private TimeSpan spent;

    public TimeSpan Total => total;

    public TimeSpan Left => total - spent;

    /// <summary>Counts the time until it is disposed of.</summary>
    public IDisposable Run() => new Running(this, time.GetTimestamp());

    private sealed class Running(Budget budget, long since) : IDisposable
    {
        public void Dispose() => budget.spent += budget.Elapsed(since);
    }

    private TimeSpan Elapsed(long since) => time.GetElapsedTime(since);
}
