using Polly;

namespace FruitWatch.Feeds.Fetching;

/// <summary>Leaves a host alone after several failures in a row; see <see cref="HostPatience"/>.</summary>
internal sealed class HostBreaker(string name, HostPatience patience) : ResilienceStrategy<FetchOutcome>
{
    protected override async ValueTask<Outcome<FetchOutcome>> ExecuteCore<TState>(
        Func<ResilienceContext, TState, ValueTask<Outcome<FetchOutcome>>> callback, ResilienceContext context, TState state)
    {
        if (patience.RestLeft() is { } wait)
            return Outcome.FromResult(FetchOutcome.Resting(name, wait));
        var settled = false;
        try
        {
            var outcome = await callback(context, state).ConfigureAwait(context.ContinueOnCapturedContext);
            // Our own caller giving up tells nothing about the host.
            settled = outcome.Exception is not OperationCanceledException;
            if (settled)
                patience.Settle(outcome.Exception is not null || outcome.Result is { CountsAgainstHost: true });
            return outcome;
        }
        finally
        {
            if (!settled)
                patience.Forget();
        }
    }
}
