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

    /// <summary>
    /// Asks for news only: what an earlier answer from the same <see cref="FetchedFeed.Url"/> carried. Used as the description's
    /// <c>refresh.conditional</c> says.
    /// </summary>
    public FeedValidators? IfChanged { get; init; }

    /// <summary>What discovery steps found earlier for this site; they are asked again when it is too old or no longer works.</summary>
    public FeedCaptures? Captures { get; init; }

    /// <summary>
    /// Asks for another spelling of the same answer, unconditionally: some services keep one stale copy for each way of asking.
    /// For one more try after <see cref="FeedCodes.TimeStale"/>.
    /// </summary>
    public bool AlternativeAccept { get; init; }

    /// <inheritdoc/>
    public override string ToString() => LocalDatePattern.Iso.Format(Today); // Not the key: a record is easily logged whole.
}

/// <summary>What an answer said of its own version, exactly as it was written.</summary>
/// <param name="Etag">The header <c>ETag</c>.</param>
/// <param name="LastModified">The header <c>Last-Modified</c>; not kept where it lies in the future.</param>
public sealed record FeedValidators(string? Etag, string? LastModified);

/// <summary>What discovery steps found for a site: for example the address of its grid cell.</summary>
/// <param name="Values">By the names the description gives them.</param>
/// <param name="At">When they were found.</param>
public sealed record FeedCaptures(IReadOnlyDictionary<string, string> Values, Instant At);

/// <summary>What would be asked, without the key.</summary>
/// <param name="Url">The address; null where a discovery step has to be asked first.</param>
/// <param name="PlaceUrl">The same with its dates left open; see <see cref="FetchedFeed.PlaceUrl"/>.</param>
public sealed record FeedAddressed(string? Url, string? PlaceUrl);
