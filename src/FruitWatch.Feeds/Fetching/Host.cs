using NodaTime;
using Polly;
using Polly.Retry;
using Polly.Timeout;

namespace FruitWatch.Feeds.Fetching;

/// <summary>
/// What is remembered about one host (scheme, name and port): its pipeline, and the pause it asked for. Each host has its
/// own, so that one that fails does not silence another.
/// </summary>
internal sealed class Host
{
    public static readonly ResiliencePropertyKey<TimeSpan> DeadlineKey = new("deadline");

    private readonly FeedClientOptions options;
    private readonly TimeProvider time;
    private readonly Lock gate = new();
    private DateTimeOffset pausedUntil = DateTimeOffset.MinValue;
    private int refusalsInARow;

    public Host(string name, FeedClientOptions options, TimeProvider time)
    {
        (this.options, this.time) = (options, time);
        // From the outside in: one deadline over everything, the retries, the rest after failures, a limit for each attempt.
        // The body is read inside, so that a dripping server meets the same deadline as a silent one.
        Pipeline = new ResiliencePipelineBuilder<FetchOutcome> { TimeProvider = time }
            .AddTimeout(new TimeoutStrategyOptions { TimeoutGenerator = arguments => new(Deadline(arguments.Context)) })
            .AddRetry(Retries())
            .AddStrategy(_ => new HostBreaker(name, options.FailuresToRest, options.Rest, time), new BreakerOptions())
            .AddTimeout(new TimeoutStrategyOptions { TimeoutGenerator = arguments => new(Deadline(arguments.Context) / 2) })
            .Build();
    }

    public ResiliencePipeline<FetchOutcome> Pipeline { get; }

    public DateTimeOffset LastUsed { get; set; }

    /// <summary>How much is left of the pause this host asked for.</summary>
    public Duration? PauseLeft()
    {
        lock (gate)
        {
            var left = pausedUntil - time.GetUtcNow();
            return left > TimeSpan.Zero ? Duration.FromTimeSpan(left) : null;
        }
    }

    /// <summary>Puts the host at rest for the time it asked for, or until the window of its limit is likely to be over.</summary>
    public Duration Pause(Duration? asked)
    {
        lock (gate)
        {
            var now = time.GetUtcNow();
            refusalsInARow++;
            // Without a wish: limits run by the minute, the hour and the UTC day, in this order of patience.
            var until = asked is { } wish ? now + wish.ToTimeSpan() : refusalsInARow switch
            {
                1 => Next(now, TimeSpan.FromMinutes(1)),
                2 => Next(now, TimeSpan.FromHours(1)),
                _ => Next(now, TimeSpan.FromDays(1)),
            };
            pausedUntil = until;
            return Duration.FromTimeSpan(until - now);
        }
    }

    public void Welcome()
    {
        lock (gate)
            refusalsInARow = 0;
    }

    private static DateTimeOffset Next(DateTimeOffset now, TimeSpan window) =>
        new(((now.Ticks / window.Ticks) + 1) * window.Ticks, TimeSpan.Zero);

    private static TimeSpan Deadline(ResilienceContext context) => context.Properties.GetValue(DeadlineKey, TimeSpan.FromSeconds(30));

    private RetryStrategyOptions<FetchOutcome> Retries() => new()
    {
        MaxRetryAttempts = Math.Max(1, options.Attempts - 1),
        Delay = options.RetryDelay,
        BackoffType = DelayBackoffType.Exponential,
        UseJitter = true,
        ShouldHandle = arguments => new(
            options.Attempts > 1
            && (arguments.Outcome.Exception is TimeoutRejectedException || arguments.Outcome.Result is { Transient: true })
            && !AsksForTooMuch(arguments.Outcome.Result)),
        // Null leaves the wait to the rule above. A generated wait is not capped by Polly, hence the check before.
        DelayGenerator = arguments => new(arguments.Outcome.Result?.Refusal?.RetryAfter is { } wish ? Wait(wish) : null),
    };

    private bool AsksForTooMuch(FetchOutcome? outcome) =>
        outcome?.Refusal is { Code: FeedCodes.RateLimited, RetryAfter: null }
        || outcome?.Refusal?.RetryAfter?.ToTimeSpan() > options.LongestRetryAfter;

    private TimeSpan? Wait(Duration wish)
    {
        // Timers fire a little early: a quarter of a second keeps us from being early.
        var wait = wish.ToTimeSpan() + TimeSpan.FromMilliseconds(250);
        return wait > options.ShortestRetryAfter ? wait : options.ShortestRetryAfter;
    }

    private sealed class BreakerOptions : ResilienceStrategyOptions;
}
