namespace FruitWatch.Feeds.Fetching;

/// <summary>
/// Spreads requests to one host: a few may go at once, the others one after the other. Counted on the clock that is injected,
/// unlike the framework's limiters.
/// </summary>
/// <remarks>The generic cell rate algorithm of ITU-T I.371; the same as a token bucket.</remarks>
internal sealed class Pace(int perSecond, int atOnce, TimeProvider time)
{
    private readonly Lock gate = new();
    private readonly long start = time.GetTimestamp();
    private readonly TimeSpan interval = TimeSpan.FromSeconds(1.0 / perSecond);
    private TimeSpan next;

    /// <summary>Waits for its turn.</summary>
    public Task TakeAsync(CancellationToken cancellation)
    {
        TimeSpan wait;
        lock (gate)
        {
            var now = time.GetElapsedTime(start);
            next = (next > now ? next : now) + interval;
            wait = next - (atOnce * interval) - now;
        }
        return wait > TimeSpan.Zero ? Task.Delay(wait, time, cancellation) : Task.CompletedTask;
    }
}
