using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds;

/// <summary>What is asked of a feed this time.</summary>
/// <param name="Today">The site's local date.</param>
public sealed record FeedRequest(LocalDate Today)
{
    /// <summary>The first day wanted; by default as many days back as the description says.</summary>
    public LocalDate? Start { get; init; }

    /// <summary>The last day wanted; by default as many days ahead as the description says.</summary>
    public LocalDate? End { get; init; }

    /// <summary>The feed's key, where it needs one. Never logged, nor part of <see cref="FetchedFeed.Url"/>.</summary>
    public string? Key { get; init; }

    /// <summary>The path of the file handed in, for feeds that are read from a file.</summary>
    public string? UploadPath { get; init; }

    /// <inheritdoc/>
    public override string ToString() => LocalDatePattern.Iso.Format(Today); // Not the key: a record is easily logged whole.
}

/// <summary>What a feed gave.</summary>
/// <param name="Body">The bytes, unpacked.</param>
/// <param name="MediaType">Type and subtype, in lower case.</param>
/// <param name="FetchedAt">When the last byte came.</param>
/// <param name="Url">What was asked, without the key; for a file its name.</param>
public sealed record FetchedFeed(ReadOnlyMemory<byte> Body, string MediaType, Instant FetchedAt, string Url)
{
    /// <summary>When the provider says the answer was last changed, where it does.</summary>
    public Instant? LastModified { get; init; }

    /// <summary>Until when the provider says nothing newer will come, where it does; at most a day on.</summary>
    public Instant? Expires { get; init; }

    /// <summary>The provider's tag for this answer.</summary>
    public string? Etag { get; init; }

    /// <summary>What the transfer itself had to tell.</summary>
    public IReadOnlyList<FeedProblem> Notes { get; init; } = [];
}
