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

    public Host(string name, FeedClientOptions options, TimeProvider time)
    {
        this.options = options;
        Slots = new SemaphoreSlim(options.AtOnce);
        Pace = new Pace(options.PerSecond, 2 * options.PerSecond, time);
        Patience = new HostPatience(name, options.FailuresToRest, options.Rest, time);
        // From the outside in: one deadline over everything, the retries, the rest after failures, a limit for each attempt.
        // The body is read inside, so that a dripping server meets the same deadline as a silent one.
        Pipeline = new ResiliencePipelineBuilder<FetchOutcome> { TimeProvider = time }
            .AddTimeout(new TimeoutStrategyOptions { TimeoutGenerator = arguments => new(Deadline(arguments.Context)) })
            .AddRetry(Retries())
            .AddStrategy(_ => new HostBreaker(name, Patience), new BreakerOptions())
            .AddTimeout(new TimeoutStrategyOptions { TimeoutGenerator = arguments => new(Deadline(arguments.Context) / 2) })
            .Build();
    }

    public ResiliencePipeline<FetchOutcome> Pipeline { get; }

    public HostPatience Patience { get; }

    /// <summary>
    /// Taken for a whole fetch, outside of its deadline: a hundred sites that ask in the same minute wait for each other, and none of
    /// them is late for that.
    /// </summary>
    public SemaphoreSlim Slots { get; }

    /// <summary>Taken for each attempt, retries included.</summary>
    public Pace Pace { get; }

    public DateTimeOffset LastUsed { get; set; }

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
            && !AsksForTooMuch(arguments.Outcome.Result)
            && Patience.PauseLeft() is null),
        // Null leaves the wait to the rule above. A generated wait is not capped by Polly, hence the check before.
        DelayGenerator = arguments => new(arguments.Outcome.Result?.Refusal?.RetryAfter is { } wish ? Wait(wish) : null),
    };

    private bool AsksForTooMuch(FetchOutcome? outcome) =>
        outcome?.Refusal is { Code: FeedCodes.RateLimited, RetryAfter: null }
        || outcome?.Refusal?.RetryAfter?.ToTimeSpan() > options.LongestRetryAfter;

    private TimeSpan? Wait(Duration wish)
    {
        // Timers fire a little early: a quarter of a second keeps us from being early. What others were told to wait as well is not
        // for all of us to end at the same moment.
        var wait = wish.ToTimeSpan() + TimeSpan.FromMilliseconds(Random.Shared.Next(250, 750));
        return wait > options.ShortestRetryAfter ? wait : options.ShortestRetryAfter;
    }

    private sealed class BreakerOptions : ResilienceStrategyOptions;
}
