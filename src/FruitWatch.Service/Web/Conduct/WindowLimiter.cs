using System.Threading.RateLimiting;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>
/// So many requests within a window that begins with its first one. Unlike the framework's own it says how many are left and when the
/// window ends, which is told with every answer, and its clock can be moved by a test.
/// </summary>
internal sealed class WindowLimiter(int permits, TimeSpan window, TimeProvider time) : RateLimiter
{
    /// <summary>Requests that are still let through in this window.</summary>
    public static readonly MetadataName<int> Left = new("left");

    /// <summary>Until the window ends.</summary>
    public static readonly MetadataName<TimeSpan> Reset = new("reset");

    private readonly Lock gate = new();
    private long begun;
    private int used;

    // Seen by the framework, which forgets limiters that nobody needs.
    public override TimeSpan? IdleDuration
    {
        get
        {
            lock (gate)
            {
                var over = time.GetElapsedTime(begun) - window;
                return over > TimeSpan.Zero ? over : null;
            }
        }
    }

    public override RateLimiterStatistics? GetStatistics() => null;

    protected override RateLimitLease AttemptAcquireCore(int permitCount)
    {
        lock (gate)
        {
            if (used == 0 || time.GetElapsedTime(begun) >= window)
                (begun, used) = (time.GetTimestamp(), 0);
            var good = used + permitCount <= permits;
            if (good)
                used += permitCount;
            return new Lease(good, permits - used, window - time.GetElapsedTime(begun));
        }
    }

    protected override ValueTask<RateLimitLease> AcquireAsyncCore(int permitCount, CancellationToken cancellationToken) =>
        new(AttemptAcquireCore(permitCount));

    private sealed class Lease(bool good, int left, TimeSpan reset) : RateLimitLease
    {
        public override bool IsAcquired => good;

        public override IEnumerable<string> MetadataNames => [Left.Name, Reset.Name, MetadataName.RetryAfter.Name];

        public override bool TryGetMetadata(string metadataName, out object? metadata)
        {
            metadata = metadataName == Left.Name ? left
                : metadataName == Reset.Name || (metadataName == MetadataName.RetryAfter.Name && !good) ? reset
                : null;
            return metadata is not null;
        }
    }
}
