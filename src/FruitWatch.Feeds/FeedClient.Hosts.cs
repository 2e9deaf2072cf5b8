using FruitWatch.Feeds.Fetching;

namespace FruitWatch.Feeds;

public sealed partial class FeedClient
{
    /// <summary>What would be asked, without the key, which need not be given. Nothing is sent.</summary>
    /// <exception cref="FeedException">The site or the request lacks something the address needs.</exception>
    public FeedAddressed AddressOf(FeedDescription description, FeedSite site, FeedRequest request)
    {
        ArgumentNullException.ThrowIfNull(description);
        ArgumentNullException.ThrowIfNull(site);
        ArgumentNullException.ThrowIfNull(request);
        if (description.IsUpload)
            return new FeedAddressed(Path.GetFileName(request.UploadPath), Path.GetFileName(request.UploadPath));
        if (Discovery.Usable(description, request.Captures, clock.GetCurrentInstant()) is not { } captures)
            return new FeedAddressed(null, null);
        // The key is in none of what is shown, and need not be known.
        var ask = FeedAsk.For(description, site, request with { Key = "key" }, options, captures);
        return new FeedAddressed(ask.ShownUrl, ask.PlaceUrl);
    }

    /// <summary>The pauses and failures of the hosts asked so far, to be kept by the caller.</summary>
    public IReadOnlyList<FeedHostState> HostStates() => [.. hosts.Values.Select(host => host.Patience.State).OfType<FeedHostState>()];

    /// <summary>Takes over what was kept earlier, or by another server. Of two states of a host the later one holds.</summary>
    public void Remember(IEnumerable<FeedHostState> states)
    {
        ArgumentNullException.ThrowIfNull(states);
        foreach (var state in states)
            HostOf(state.Authority).Patience.Merge(state);
    }
}
