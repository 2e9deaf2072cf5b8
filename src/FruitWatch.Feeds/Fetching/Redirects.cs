using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Fetching;

/// <summary>Whether a server that sends us on is followed, and with what.</summary>
internal static class Redirects
{
    private const int Most = 3;

    /// <summary>The request at the new address.</summary>
    /// <param name="request">As described.</param>
    /// <param name="ask">What was asked.</param>
    /// <param name="moved">The refusal in case it is not followed.</param>
    /// <param name="target">Where the server sends us.</param>
    /// <param name="seen">The addresses asked so far.</param>
    /// <param name="localStations">Endpoints the operator allows.</param>
    /// <exception cref="FeedException">It is not followed.</exception>
    public static FeedAsk Follow(
        RequestDescription request, FeedAsk ask, FeedException moved, Uri target, IReadOnlySet<string> seen, IReadOnlySet<string> localStations)
    {
        var why = Objection(request, ask, target, seen, localStations);
        if (why is not null)
            throw new FeedException(moved.Code, $"{moved.Sentence} {why}", moved.Place, moved.Mend) { Status = moved.Status, Evidence = moved.Evidence };
        return ask.To(target);
    }

    private static string? Objection(
        RequestDescription request, FeedAsk ask, Uri target, IReadOnlySet<string> seen, IReadOnlySet<string> localStations)
    {
        if (seen.Contains(target.AbsoluteUri))
            return "That leads in a circle.";
        if (seen.Count > Most)
            return $"More than {Most} addresses one after the other are not followed.";
        if (!FeedAddress.IsSchemeAllowed(target, localStations))
            return "That address does not use https.";
        if (target.UserInfo.Length > 0 || (!target.IsDefaultPort && !FeedAddress.IsLocalStation(target, localStations)))
            return "That address holds a user name or a port of its own.";
        if (!MayGoTo(request, ask, target.IdnHost))
            return "That is another host than the description names.";
        // A server that quotes our request in the new address would have us carry the key to somebody else.
        return target.GetLeftPart(UriPartial.Authority) != ask.Authority && Secrets.Without(target.AbsoluteUri, ask.Key) != target.AbsoluteUri
            ? "That would take the key to another host."
            : null;
    }

    private static bool MayGoTo(RequestDescription request, FeedAsk ask, string host) =>
        string.Equals(host, ask.Uri.IdnHost, StringComparison.OrdinalIgnoreCase)
        || (request.MustStayOnHost is { } only ? string.Equals(host, only, StringComparison.OrdinalIgnoreCase) : request.Hosts.Contains(host));
}
