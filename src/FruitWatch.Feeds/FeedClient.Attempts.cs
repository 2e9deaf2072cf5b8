using FruitWatch.Feeds.Fetching;
using Polly;
using Polly.Timeout;

namespace FruitWatch.Feeds;

public sealed partial class FeedClient
{
    private static readonly TimeSpan ShortestDeadline = TimeSpan.FromMilliseconds(50);

    private async Task<FetchOutcome> RunAsync(Host host, FeedDescription description, FeedAsk ask, Budget budget, CancellationToken cancellation)
    {
        var context = ResilienceContextPool.Shared.Get(cancellation);
        var left = ask.IsStep && budget.Left > Discovery.StepDeadline ? Discovery.StepDeadline : budget.Left;
        context.Properties.Set(Host.DeadlineKey, left > ShortestDeadline ? left : ShortestDeadline);
        try
        {
            return await host.Pipeline.ExecuteAsync(async running => await AttemptAsync(host, description, ask, running.CancellationToken), context);
        }
        catch (TimeoutRejectedException fault)
        {
            return FetchOutcome.Of(new FeedException(
                FeedCodes.TooSlow,
                FormattableString.Invariant($"{ask.Uri.Host} did not send the whole answer within {budget.Total.TotalSeconds:0.#} s."),
                ask.ShownUrl,
                "It will be asked again; ask for fewer days, or raise request.timeoutSeconds, if this keeps coming.",
                fault));
        }
        finally
        {
            ResilienceContextPool.Shared.Return(context);
        }
    }

    private async Task<FetchOutcome> AttemptAsync(Host host, FeedDescription description, FeedAsk ask, CancellationToken cancellation)
    {
        try
        {
            using var client = clients.CreateClient(HttpClientName);
            for (var again = false; ; again = true)
            {
                await host.Pace.TakeAsync(cancellation);
                using var message = ask.Message();
                using var response = await client.SendAsync(message, HttpCompletionOption.ResponseHeadersRead, cancellation);
                switch ((int)response.StatusCode)
                {
                    case 200 or 203:
                        return FetchOutcome.Of(await HttpAnswer.ReadAsync(response, description, ask, clock, cancellation));
                    case 304 when ask.IfChanged is not null:
                        return FetchOutcome.Of(HttpAnswer.Unchanged(response, description, ask, clock.GetCurrentInstant()));
                    case 304 when !again:
                        continue; // "Nothing new" to somebody who asked for everything: a copy on the way has mixed us up.
                    default:
                        var refusal = await HttpRefusal.OfAsync(response, description, ask, clock.GetCurrentInstant(), cancellation);
                        return FetchOutcome.Of(refusal, HttpRefusal.MovedTo(response, ask));
                }
            }
        }
        catch (FeedException refusal)
        {
            return FetchOutcome.Of(refusal);
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException or InvalidDataException)
        {
            cancellation.ThrowIfCancellationRequested(); // The connection was broken off by ourselves.
            return FetchOutcome.Of(Broken(fault, ask));
        }
        catch (OperationCanceledException fault) when (!cancellation.IsCancellationRequested)
        {
            // The connection did not stand in time; the handler reports that as a cancellation nobody asked for.
            return FetchOutcome.Of(Unreachable(ask, fault));
        }
    }

    /// <summary>
    /// What a broken connection means. The framework's own texts may name an address of the inner network, so none of them is shown.
    /// </summary>
    private static FeedException Broken(Exception fault, FeedAsk ask)
    {
        var host = ask.Uri.Host;
        if (CauseOf<BlockedAddressException>(fault) is not null)
            return new FeedException(
                FeedCodes.BlockedAddress,
                $"{host} is not on the open internet, and is not asked.",
                ask.ShownUrl,
                "Correct the address. A station on the own network is for the operator to allow, by host and port.");
        return (fault as HttpRequestException)?.HttpRequestError switch
        {
            HttpRequestError.SecureConnectionError =>
                new(
                    FeedCodes.Tls,
                    $"No safe connection to {host}. {CauseOf<UntrustedServerException>(fault)?.Message ?? "It does not speak TLS as we do."}",
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

    private static T? CauseOf<T>(Exception? fault)
        where T : Exception
    {
        while (fault is not null and not T)
            fault = fault.InnerException;
        return (T?)fault;
    }
}
