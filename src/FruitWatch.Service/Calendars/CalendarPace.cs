using System.Threading.RateLimiting;
using FruitWatch.Service.Web.Conduct;

namespace FruitWatch.Service.Calendars;

/// <summary>
/// How often a feed is read, and how often secrets are guessed. Feeds are counted each by itself, for one server of a calendar program
/// reads those of many people; guesses are counted by where they come from.
/// </summary>
internal sealed class CalendarPace(TimeProvider time) : IDisposable
{
    /// <summary>Times that a feed may be read in an hour.</summary>
    public const int PerHour = 12;

    private static readonly TimeSpan s_hour = TimeSpan.FromHours(1);
    private static readonly TimeSpan s_minute = TimeSpan.FromMinutes(1);

    private readonly PartitionedRateLimiter<long> feeds = PartitionedRateLimiter.Create<long, long>(
        feed => RateLimitPartition.Get(feed, _ => new WindowLimiter(PerHour, s_hour, time)));

    private readonly PartitionedRateLimiter<HttpContext> guesses = PartitionedRateLimiter.Create<HttpContext, string>(
        context => RateLimitPartition.Get(RateLimits.AddressOf(context), _ => new WindowLimiter(RateLimits.GuessesPerMinute, s_minute, time)));

    /// <summary>Counts a reading of a feed.</summary>
    /// <returns>How long to wait; null where it may be read.</returns>
    public TimeSpan? OfFeed(long feedId) => Wait(feeds.AttemptAcquire(feedId));

    /// <summary>Counts a secret that opens nothing.</summary>
    /// <returns>How long to wait before the next; null where another may be tried.</returns>
    public TimeSpan? OfGuess(HttpContext context) => Wait(guesses.AttemptAcquire(context));

    public void Dispose()
    {
        feeds.Dispose();
        guesses.Dispose();
    }

    private static TimeSpan? Wait(RateLimitLease lease)
    {
        using (lease)
            return lease.IsAcquired ? null : lease.TryGetMetadata(MetadataName.RetryAfter, out var wait) ? wait : s_minute;
    }
}
