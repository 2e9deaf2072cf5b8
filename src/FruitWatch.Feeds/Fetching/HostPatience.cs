using NodaTime;
using NodaTime.Extensions;

namespace FruitWatch.Feeds.Fetching;

/// <summary>
/// What is remembered about one host: the pause it asked for, and how often it failed in a row. A breaker that samples a
/// failure rate would never open at a few requests an hour, and could not be kept over a restart.
/// </summary>
internal sealed class HostPatience(string authority, int failuresToRest, TimeSpan rest, TimeProvider time)
{
    private readonly Lock gate = new();
    private FeedHostState state = new(authority, null, 0, 0, null, Instant.MinValue);
    private bool trying;

    /// <summary>What there is to remember, or null.</summary>
    public FeedHostState? State
    {
        get
        {
            lock (gate)
                return state.ChangedAt == Instant.MinValue ? null : state;
        }
    }

    private Instant Now => time.GetUtcNow().ToInstant();

    /// <summary>Takes over a state kept elsewhere if it is later than ours.</summary>
    public void Merge(FeedHostState other)
    {
        lock (gate)
        {
            if (other.ChangedAt > state.ChangedAt)
                state = other with { Authority = authority };
        }
    }

    /// <summary>How much is left of the pause this host asked for.</summary>
    public Duration? PauseLeft()
    {
        lock (gate)
            return state.PausedUntil is { } until && until > Now ? until - Now : null;
    }

    /// <summary>Puts the host at rest for the time it asked for, or until the window of its limit is likely to be over.</summary>
    public Duration Pause(Duration? asked)
    {
        lock (gate)
        {
            var now = Now;
            var refusals = state.RefusalsInARow + 1;
            // Without a wish: limits run by the minute, the hour and the UTC day, in this order of patience.
            var until = asked is { } wish ? now + wish : refusals switch
            {
                1 => Next(now, Duration.FromMinutes(1)),
                2 => Next(now, Duration.FromHours(1)),
                _ => Next(now, Duration.FromDays(1)),
            };
            state = state with { PausedUntil = until, RefusalsInARow = refusals, ChangedAt = now };
            return until - now;
        }
    }

    /// <summary>The host answered: its pauses are forgotten.</summary>
    public void Welcome()
    {
        lock (gate)
        {
            if (state.RefusalsInARow > 0 || state.PausedUntil is not null)
                state = state with { PausedUntil = null, RefusalsInARow = 0, ChangedAt = Now };
        }
    }

    /// <summary>
    /// How long the host is still to be left alone; null lets the caller try it. After the rest one request tries the host, and the
    /// others wait for its outcome by being refused.
    /// </summary>
    public Duration? RestLeft()
    {
        lock (gate)
        {
            if (state.FailuresInARow < failuresToRest)
                return null;
            var left = state.RestsUntil - Now;
            if (left > Duration.Zero || trying)
                return left > Duration.Zero ? left : Duration.FromSeconds(1);
            trying = true;
            return null;
        }
    }

    /// <summary>An attempt ended.</summary>
    public void Settle(bool failed)
    {
        lock (gate)
        {
            trying = false;
            if (!failed && state.FailuresInARow == 0)
                return;
            var failures = failed ? state.FailuresInARow + 1 : 0;
            Instant? until = failures >= failuresToRest ? Now + Duration.FromTimeSpan(rest) : null;
            state = state with { FailuresInARow = failures, RestsUntil = until, ChangedAt = Now };
        }
    }

    /// <summary>An attempt ended in a way that tells nothing about the host.</summary>
    public void Forget()
    {
        lock (gate)
            trying = false;
    }

    private static Instant Next(Instant now, Duration window)
    {
        var ticks = window.BclCompatibleTicks;
        return Instant.FromUnixTimeTicks(((now.ToUnixTimeTicks() / ticks) + 1) * ticks);
    }
}
