using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>How one attempt ended: with an answer, or with a refusal and what it means for further attempts.</summary>
/// <param name="Answer">The answer, or null.</param>
/// <param name="Refusal">The refusal, or null.</param>
/// <param name="Transient">Asking again soon may help.</param>
/// <param name="CountsAgainstHost">The host is at fault, not our request; too many requests are not a fault of the host.</param>
internal sealed record FetchOutcome(FetchedFeed? Answer, FeedException? Refusal, bool Transient, bool CountsAgainstHost)
{
    private static readonly int[] TransientStatus = [408, 429, 500, 502, 503, 504];

    /// <summary>Where the server sends us; the refusal is for the case that we do not go.</summary>
    public Uri? MovedTo { get; private init; }

    public static FetchOutcome Of(FetchedFeed answer) => new(answer, null, false, false);

    /// <summary>A refusal that was meant: by the server's status, or by what we found in the answer.</summary>
    public static FetchOutcome Of(FeedException refusal, Uri? movedTo = null) => new(
        null,
        refusal,
        refusal.Status is { } status
            ? TransientStatus.Contains(status)
            : refusal.Code is FeedCodes.EmptyBody or FeedCodes.CutShort or FeedCodes.TooSlow or FeedCodes.Unreachable,
        refusal.Code is FeedCodes.ServerError or FeedCodes.CutShort or FeedCodes.TooSlow or FeedCodes.Unreachable or FeedCodes.Tls)
    {
        MovedTo = movedTo,
    };

    public static FetchOutcome Resting(string host, Duration wait) => new(
        null,
        new FeedException(
            FeedCodes.HostResting,
            "The host failed several times in a row and is left alone for a while.",
            host,
            "Nothing needs to be done; it is tried again by itself.")
        { RetryAfter = wait },
        false,
        false);
}
