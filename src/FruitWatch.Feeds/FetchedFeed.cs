using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>What a feed gave.</summary>
/// <param name="Body">The bytes, unpacked; empty where nothing is new.</param>
/// <param name="MediaType">Type and subtype, in lower case.</param>
/// <param name="FetchedAt">When the last byte came.</param>
/// <param name="Url">What was asked, without the key; for a file its name.</param>
public sealed record FetchedFeed(ReadOnlyMemory<byte> Body, string MediaType, Instant FetchedAt, string Url)
{
    /// <summary>The server says that nothing has changed: the earlier answer is as good as new. The body is empty.</summary>
    public bool NotModified { get; init; }

    /// <summary>What to ask with next time.</summary>
    public FeedValidators Validators { get; init; } = new(null, null);

    /// <summary>
    /// The address with its dates left as the names of their placeholders, and without the key. Equal for sites that share a
    /// rounded coordinate or a grid cell, which can share an answer.
    /// </summary>
    public string PlaceUrl { get; init; } = Url;

    /// <summary>What discovery steps found, now or earlier; to be kept for the next request.</summary>
    public FeedCaptures? Captures { get; init; }

    /// <summary>When the provider says the answer was last changed, where it does.</summary>
    public Instant? LastModified { get; init; }

    /// <summary>
    /// Until when the provider says nothing newer will come, where it does and the description honours that; at most a day on.
    /// </summary>
    public Instant? Expires { get; init; }

    /// <summary>What the transfer itself had to tell.</summary>
    public IReadOnlyList<FeedProblem> Notes { get; init; } = [];
}
