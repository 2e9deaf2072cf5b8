using System.Collections.Concurrent;
using FruitWatch.Feeds.Fetching;
using NodaTime;
using Polly;
using Polly.Timeout;

namespace FruitWatch.Feeds;

/// <summary>
/// Fetches what a description names: over HTTPS, over plain HTTP from hosts the operator allows, or from a file. Patient with
/// failing servers, and strict with what they send. One for the whole process; thread-safe.
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
        var ask = FeedAsk.For(description, site, request, options);
        var host = HostOf(ask.Authority);
        if (host.Patience.PauseLeft() is { } left)
            throw new FeedException(
                FeedCodes.RateLimited,
                $"{ask.Uri.Host} asked for a pause, which is not over.",
                ask.ShownUrl,
                "It is asked again after the pause; ask it less often if this keeps coming.")
            { RetryAfter = left };
        var outcome = await RunAsync(host, description, ask, cancellation);
        if (outcome.Answer is { } answer)
        {
            host.Patience.Welcome();
            return answer;
        }
        var refusal = outcome.Refusal!;
        throw refusal.Code == FeedCodes.RateLimited ? Paused(refusal, host.Patience.Pause(refusal.RetryAfter)) : refusal;
    }

    private async Task<FetchOutcome> RunAsync(Host host, FeedDescription description, FeedAsk ask, CancellationToken cancellation)
    {
        var context = ResilienceContextPool.Shared.Get(cancellation);
        var deadline = options.Deadline ?? description.Request.Deadline.ToTimeSpan();
        context.Properties.Set(Host.DeadlineKey, deadline);
        try
        {
            return await host.Pipeline.ExecuteAsync(async running => await AttemptAsync(description, ask, running.CancellationToken), context);
        }
        catch (TimeoutRejectedException fault)
        {
            return FetchOutcome.Of(new FeedException(
                FeedCodes.TooSlow,
                FormattableString.Invariant($"{ask.Uri.Host} did not send the whole answer within {deadline.TotalSeconds:0.#} s."),
                ask.ShownUrl,
                "It will be asked again; ask for fewer days, or raise request.timeoutSeconds, if this keeps coming.",
                fault));
        }
        finally
        {
            ResilienceContextPool.Shared.Return(context);
        }
    }

    private async Task<FetchOutcome> AttemptAsync(FeedDescription description, FeedAsk ask, CancellationToken cancellation)
    {
        try
        {
            using var client = clients.CreateClient(HttpClientName);
            using var message = ask.Message();
            using var response = await client.SendAsync(message, HttpCompletionOption.ResponseHeadersRead, cancellation);
            if ((int)response.StatusCode is not (200 or 203))
                return FetchOutcome.Of(await HttpRefusal.OfAsync(response, description, ask, clock.GetCurrentInstant(), cancellation));
            return FetchOutcome.Of(await HttpAnswer.ReadAsync(response, description, ask, clock, cancellation));
        }
        catch (FeedException refusal)
        {
            return FetchOutcome.Of(refusal);
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException or InvalidDataException && !cancellation.IsCancellationRequested)
        {
            return FetchOutcome.Of(Broken(fault, ask));
        }
        catch (OperationCanceledException fault) when (!cancellation.IsCancellationRequested)
        {
            // The connection did not stand in time; the handler reports that as a cancellation nobody asked for.
            return FetchOutcome.Of(Unreachable(ask, fault));
        }
    }

    private static FeedException Broken(Exception fault, FeedAsk ask)
    {
        var host = ask.Uri.Host;
        return (fault as HttpRequestException)?.HttpRequestError switch
        {
            HttpRequestError.SecureConnectionError =>
                new(
                    FeedCodes.Tls,
                    $"No safe connection to {host}: {(fault.InnerException ?? fault).Message}",
                    ask.ShownUrl,
                    "Tell the provider; a certificate that is not valid is never passed over.",
                    fault),
            HttpRequestError.NameResolutionError =>
                new(
                    FeedCodes.Unreachable,
                    $"There is no host named {host}, or names cannot be looked up.",
                    ask.ShownUrl,
                    "Check the address and the network.",
                    fault),
            HttpRequestError.ConnectionError => Unreachable(ask, fault),
            _ => new(
                FeedCodes.CutShort,
                $"The connection to {host} broke before the whole answer had come.",
                ask.ShownUrl,
                "It will be asked again.",
                fault),
        };
    }

    private static FeedException Unreachable(FeedAsk ask, Exception fault) =>
        new(
            FeedCodes.Unreachable,
            $"{ask.Uri.Host} cannot be reached.",
            ask.ShownUrl,
            "It will be asked again; check the network if other feeds fail as well.",
            fault);

    private static FeedException Paused(FeedException refusal, Duration pause) =>
        new(refusal.Code, refusal.Sentence, refusal.Place, refusal.Mend) { RetryAfter = pause, Status = refusal.Status };

    private Host HostOf(string authority)
    {
        var host = hosts.GetOrAdd(authority, name => new Host(name, options, time));
        host.LastUsed = time.GetUtcNow();
        if (hosts.Count > options.MostHosts)
            hosts.TryRemove(hosts.MinBy(one => one.Value.LastUsed));
        return host;
    }
}
