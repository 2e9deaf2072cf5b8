using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>How a server that was asked before is asked again.</summary>
public enum FeedConditional
{
    /// <summary>As if for the first time.</summary>
    None,

    /// <summary>By the time of its last answer.</summary>
    LastModified,

    /// <summary>By the tag of its last answer.</summary>
    Etag,
}

/// <summary>How often a feed is asked.</summary>
/// <param name="Every">Between two requests.</param>
/// <param name="Jitter">At most this much is added at random, so that not all sites ask at once.</param>
/// <param name="Conditional">How to ask for news only.</param>
/// <param name="HonourExpires">Whether a success's own expiry puts off the next request.</param>
public sealed record FeedRefresh(Duration Every, Duration Jitter, FeedConditional Conditional, bool HonourExpires)
{
    internal static readonly FeedRefresh Hourly = new(Duration.FromHours(1), Duration.Zero, FeedConditional.None, true);

    /// <summary>An error's claim to be cacheable binds at most this long.</summary>
    public Duration? ErrorCacheMax { get; private init; }

    internal IReadOnlyList<int> DeprecatedStatus { get; private init; } = [];

    internal static FeedRefresh From(DescriptionPlace? place)
    {
        if (place is null
            || !place.Object("every!", "jitter", "conditional!", "honourExpires!", "errorCacheMax", "deprecatedStatus"))
            return Hourly;
        var every = place.Span("every") ?? Hourly.Every;
        if (every < Duration.FromMinutes(5))
            place.Refuse("every", "No open feed is asked more than once in five minutes.", "Write PT5M or more.");
        return new FeedRefresh(
            every,
            place.Span("jitter") ?? Duration.Zero,
            place.Word("conditional", FeedConditional.None, "none", "lastModified", "etag"),
            place.Flag("honourExpires"))
        {
            ErrorCacheMax = place.Span("errorCacheMax"),
            DeprecatedStatus = [.. place.Items("deprecatedStatus").Select(item => item.AsWhole(100, 599)).OfType<int>()],
        };
    }
}
