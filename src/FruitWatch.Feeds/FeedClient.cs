using System.Collections.Concurrent;
using FruitWatch.Feeds.Fetching;
using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>
/// Fetches what a description names: over HTTPS from the open internet, from stations the operator allows, or from a file.
/// Patient with failing servers, and strict with what they send. One for the whole process; thread-safe.
/// </summary>
/// <param name="clients">Gives the client named <see cref="HttpClientName"/>.</param>
/// <param name="options">How to fetch.</param>
/// <param name="clock">Stamps the answers.</param>
/// <param name="time">Runs the waits and deadlines.</param>
public sealed partial class FeedClient(IHttpClientFactory clients, FeedClientOptions options, IClock clock, TimeProvider time)
{
    /// <summary>The name of the HTTP client that feeds are fetched with.</summary>
    public const string HttpClientName = "FruitWatch.Feeds";

    private readonly ConcurrentDictionary<string, Host> hosts = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Fetches one answer, with retries where they may help.</summary>
    /// <exception cref="FeedException">There is no answer, or not one the description allows.</exception>
    /// <exception cref="OperationCanceledException"><paramref name="cancellation"/> was used.</exception>
    public async Task<FetchedFeed> FetchAsync(
        FeedDescription description, FeedSite site, FeedRequest request, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(description);
        ArgumentNullException.ThrowIfNull(site);
        ArgumentNullException.ThrowIfNull(request);
        if (description.IsUpload)
            return await FeedFile.ReadAsync(description, request, clock, cancellation);
        var budget = new Budget(options.Deadline ?? description.Request.Deadline.ToTimeSpan(), time);
        var kept = Discovery.Usable(description, request.Captures, clock.GetCurrentInstant());
        if (kept is not null)
        {
            try
            {
                return await AskAsync(kept, MeansMoved(description));
            }
            catch (FeedException refusal) when (refusal.Status is { } status && MeansMoved(description).Contains(status))
            {
                // What was found earlier no longer holds: once more from the first step.
            }
        }
        return await AskAsync(await DiscoverAsync(description, site, request, budget, cancellation), []);

        async Task<FetchedFeed> AskAsync(FeedCaptures captures, IReadOnlyList<int> notFollowed)
        {
            var ask = FeedAsk.For(description, site, request, options, captures);
            ask = ask with { IfChanged = ConditionsFor(description, request, ask) };
            var answer = await FollowAsync(description, ask, budget, notFollowed, cancellation);
            return description.Request.Steps.Count == 0 ? answer : answer with { Captures = captures };
        }
    }

    /// <summary>Statuses of the feed that send us back to the first step. A move for good is one, by either number.</summary>
    private static List<int> MeansMoved(FeedDescription description)
    {
        var all = description.Request.Steps.SelectMany(step => step.RefreshOnStatus).ToList();
        return all.Contains(301) ? [.. all, 308] : all;
    }

    private async Task<FeedCaptures> DiscoverAsync(
        FeedDescription description, FeedSite site, FeedRequest request, Budget budget, CancellationToken cancellation)
    {
        var found = Discovery.Nothing with { At = clock.GetCurrentInstant() };
        foreach (var step in description.Request.Steps)
        {
            var ask = FeedAsk.ForStep(description, step, site, request, options, found);
            found = Discovery.Found(description, step, await FollowAsync(description, ask, budget, [], cancellation), found);
        }
        return found;
    }

    /// <summary>Marks kept from another address say nothing about this one.</summary>
    private FeedValidators? ConditionsFor(FeedDescription description, FeedRequest request, FeedAsk ask)
    {
        var sameAddress = description.Request.CapturedUrl is not { } whole || request.Captures?.Values.GetValueOrDefault(whole) == ask.ShownUrl;
        return sameAddress && !request.AlternativeAccept
            ? Freshness.Conditions(request.IfChanged, description.Refresh.Conditional, clock.GetCurrentInstant())
            : null;
    }

    /// <summary>Asks, and goes where the server sends us as far as the description allows it.</summary>
    private async Task<FetchedFeed> FollowAsync(
        FeedDescription description, FeedAsk ask, Budget budget, IReadOnlyList<int> notFollowed, CancellationToken cancellation)
    {
        var seen = new HashSet<string>();
        while (true)
        {
            seen.Add(ask.Uri.AbsoluteUri);
            var outcome = await AskHostAsync(description, ask, budget, cancellation);
            if (outcome.Answer is { } answer)
                return answer;
            if (outcome.MovedTo is not { } target || notFollowed.Contains(outcome.Refusal!.Status!.Value))
                throw outcome.Refusal!;
            ask = Redirects.Follow(description.Request, ask, outcome.Refusal!, target, seen, options.LocalStations);
        }
    }

    private async Task<FetchOutcome> AskHostAsync(FeedDescription description, FeedAsk ask, Budget budget, CancellationToken cancellation)
    {
        var host = HostOf(ask.Authority);
        await host.Slots.WaitAsync(cancellation);
        try
        {
            if (host.Patience.PauseLeft() is { } left)
                throw new FeedException(
                    FeedCodes.RateLimited,
                    $"{ask.Uri.Host} asked for a pause, which is not over.",
                    ask.ShownUrl,
                    "It is asked again after the pause; ask it less often if this keeps coming.")
                { RetryAfter = left };
            using var running = budget.Run();
            var outcome = await RunAsync(host, description, ask, budget, cancellation);
            if (outcome.Answer is not null)
                host.Patience.Welcome();
            return outcome.Refusal is { } refusal && PauseFor(host, refusal) is { } pause
                ? FetchOutcome.Of(new FeedException(refusal.Code, refusal.Sentence, refusal.Place, refusal.Mend)
                {
                    RetryAfter = pause,
                    Status = refusal.Status,
                    Evidence = refusal.Evidence,
                })
                : outcome;
        }
        finally
        {
            host.Slots.Release();
        }
    }

    /// <summary>A refusal for too many requests always means a pause; a failure does if the server asks for a long one.</summary>
    private Duration? PauseFor(Host host, FeedException refusal) =>
        refusal.Code == FeedCodes.RateLimited ? host.Patience.Pause(refusal.RetryAfter)
        : refusal.Code == FeedCodes.ServerError && refusal.RetryAfter?.ToTimeSpan() > options.LongestRetryAfter ? host.Patience.Pause(refusal.RetryAfter)
        : null;

    private Host HostOf(string authority)
    {
        var host = hosts.GetOrAdd(authority, name => new Host(name, options, time));
        host.LastUsed = time.GetUtcNow();
        if (hosts.Count > options.MostHosts)
            hosts.TryRemove(hosts.MinBy(one => one.Value.LastUsed));
        return host;
    }
}
