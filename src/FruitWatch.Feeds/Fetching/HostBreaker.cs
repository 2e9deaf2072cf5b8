using Polly;

namespace FruitWatch.Feeds.Fetching;

/// <summary>
/// Leaves a host alone after several failures in a row. A breaker that samples a failure rate would never open at a few
/// requests an hour. After the rest one request tries the host; the others wait for its outcome by being refused.
/// </summary>
internal sealed class HostBreaker(string name, int failuresToRest, TimeSpan rest, TimeProvider time) : ResilienceStrategy<FetchOutcome>
{
    private readonly Lock gate = new();
    private int failures;
    private DateTimeOffset restsUntil = DateTimeOffset.MinValue;
    private bool trying;

    protected override async ValueTask<Outcome<FetchOutcome>> ExecuteCore<TState>(
        Func<ResilienceContext, TState, ValueTask<Outcome<FetchOutcome>>> callback, ResilienceContext context, TState state)
    {
        if (Remaining() is { } wait)
            return Outcome.FromResult(FetchOutcome.Resting(name, wait));
        var settled = false;
        try
        {
            var outcome = await callback(context, state).ConfigureAwait(context.ContinueOnCapturedContext);
            // Our own caller giving up tells nothing about the host.
            settled = outcome.Exception is not OperationCanceledException;
            if (settled)
                Settle(outcome.Exception is not null || outcome.Result is { CountsAgainstHost: true });
            return outcome;
        }
        finally
        {
            if (!settled)
                Forget();
        }
    }

    private TimeSpan? Remaining()
    {
        lock (gate)
        {
            if (failures < failuresToRest)
                return null;
            var wait = restsUntil - time.GetUtcNow();
            if (wait > TimeSpan.Zero || trying)
                return wait > TimeSpan.Zero ? wait : TimeSpan.FromSeconds(1);
            trying = true;
            return null;
        }
    }

    private void Settle(bool failed)
    {
        lock (gate)
        {
            trying = false;
            failures = failed ? failures + 1 : 0;
            if (failures >= failuresToRest)
                restsUntil = time.GetUtcNow() + rest;
        }
    }

    private void Forget()
    {
        lock (gate)
            trying = false;
    }
}
