using FruitWatch.Feeds;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>When a feed is asked again. Pure; the uneven part is drawn from a seed, so that a time can be worked out again.</summary>
internal static class FeedTimes
{
    /// <summary>No answer is taken for fresh longer than this, whatever its description or the server says.</summary>
    public static readonly Duration Longest = Duration.FromHours(24);

    private static readonly Duration s_leastSpread = Duration.FromMinutes(10);

    private static readonly Duration[] s_afterFailure =
        [Duration.FromMinutes(15), Duration.FromHours(1), Duration.FromHours(3), Duration.FromHours(6)];

    /// <summary>Whether an answer is young enough to be used without asking.</summary>
    /// <param name="kept">The answer.</param>
    /// <param name="refresh">How often the description wants the feed to be asked.</param>
    /// <param name="now">The moment.</param>
    public static bool IsFresh(FeedAnswer kept, FeedRefresh refresh, Instant now)
    {
        var every = Duration.Min(refresh.Every, Longest);
        // A little before its time an answer no longer counts as fresh: who asks daily at six must not find yesterday's of 06:04.
        var until = kept.CheckedAt + every - Duration.Max(refresh.Jitter, every / 10);
        if (refresh.HonourExpires && kept.Expires > until)
            until = kept.Expires.Value;
        return now < Instant.Min(until, kept.CheckedAt + Longest) && now >= kept.CheckedAt - Duration.FromMinutes(5);
    }

    /// <summary>The next time after a good answer.</summary>
    /// <param name="checkedAt">When the provider was asked.</param>
    /// <param name="expires">Until when it says that nothing newer will come.</param>
    /// <param name="refresh">How often the description wants the feed to be asked.</param>
    /// <param name="least">The operator's least time between two requests.</param>
    /// <param name="seed">Names the draw.</param>
    public static Instant AfterGood(Instant checkedAt, Instant? expires, FeedRefresh refresh, Duration least, long seed)
    {
        var next = checkedAt + Duration.Min(Duration.Max(refresh.Every, least), Longest);
        if (refresh.HonourExpires && expires > next)
            next = Instant.Min(expires.Value, checkedAt + Longest);
        return OffTheHour(next + Drawn(Duration.Max(refresh.Jitter, s_leastSpread), seed, checkedAt));
    }

    /// <summary>The next time after a try that gave nothing.</summary>
    /// <param name="now">When it failed.</param>
    /// <param name="failures">Failures in a row, this one included.</param>
    /// <param name="pause">How long the host wants to be left alone; null where it does not say.</param>
    /// <param name="permanent">It will not get better by itself: once a day is enough.</param>
    /// <param name="seed">Names the draw.</param>
    public static Instant AfterFailure(Instant now, int failures, Duration? pause, bool permanent, long seed)
    {
        var wait = permanent ? Longest : s_afterFailure[Math.Clamp(failures, 1, s_afterFailure.Length) - 1];
        wait = Duration.Max(wait, pause ?? Duration.Zero);
        return OffTheHour(now + wait + Drawn(Duration.Max(wait / 10, Duration.FromMinutes(1)), seed, now));
    }

    // All the world asks at the full hour.
    private static Instant OffTheHour(Instant at)
    {
        var minute = (int)((at.ToUnixTimeSeconds() / 60) % 60);
        return minute is >= 58 or <= 2 ? at + Duration.FromMinutes(minute >= 58 ? 63 - minute : 3 - minute) : at;
    }

    private static Duration Drawn(Duration most, long seed, Instant at)
    {
        // SplitMix64: two seeds that differ little give draws that have nothing to do with each other.
        var mixed = unchecked((ulong)seed * 0x9E3779B97F4A7C15 + (ulong)at.ToUnixTimeSeconds());
        mixed = unchecked((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9);
        mixed = unchecked((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB);
        return most * ((mixed >> 11) * (1.0 / (1UL << 53)));
    }
}
