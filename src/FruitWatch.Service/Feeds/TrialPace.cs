namespace FruitWatch.Service.Feeds;

/// <summary>
/// How often a cooperative may have feeds asked for a look: a person at a page starts requests to strangers, and must not be able to
/// hammer them. Counted on this server; what is not started is not counted.
/// </summary>
internal sealed class TrialPace(TimeProvider time)
{
    /// <summary>Requests within a minute.</summary>
    public const int Most = 10;

    private static readonly TimeSpan s_window = TimeSpan.FromMinutes(1);

    private readonly Lock gate = new();
    private readonly Dictionary<long, Queue<DateTimeOffset>> started = [];

    /// <summary>Counts a request that is about to be made.</summary>
    /// <exception cref="TrialTooOftenException">There were enough in the last minute; nothing is counted.</exception>
    public void Count(long cooperativeId)
    {
        lock (gate)
        {
            if (!started.TryGetValue(cooperativeId, out var times))
                started[cooperativeId] = times = new Queue<DateTimeOffset>();
            var now = time.GetUtcNow();
            while (times.TryPeek(out var first) && first <= now - s_window)
                times.Dequeue();
            if (times.Count >= Most)
                throw new TrialTooOftenException(times.Peek() + s_window - now);
            times.Enqueue(now);
        }
    }
}

/// <summary>A cooperative had feeds asked too often for a look.</summary>
/// <param name="wait">Until the next request is let through.</param>
internal sealed class TrialTooOftenException(TimeSpan wait) : Exception("Feeds were asked for a look too often.")
{
    public TimeSpan Wait { get; } = wait;
}
