using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Text;
using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Webhooks;

/// <summary>What became of an attempt.</summary>
/// <param name="Status">HTTP status; null where there was no answer.</param>
/// <param name="Error">Why it counts for nothing, as a code of <see cref="DeliveryErrors"/>; null where it was taken.</param>
/// <param name="Rest">How long the receiver asked to be left alone.</param>
internal sealed record CallOutcome(int? Status, string? Error, Duration? Rest = null);

/// <summary>Codes of what an attempt can run into. An exception's own text is shown to nobody: it names inner addresses.</summary>
internal static class DeliveryErrors
{
    public const string Status = "status";
    public const string Gone = "gone";
    public const string Redirect = "redirect";
    public const string Timeout = "timeout";
    public const string NoSuchHost = "no-such-host";
    public const string Blocked = "blocked-address";
    public const string Tls = "tls";
    public const string Connection = "connection";
    public const string SecretLost = "secret-lost";

    /// <summary>It was waiting when its webhook was stopped.</summary>
    public const string Stopped = "stopped";

    public static readonly IReadOnlyList<string> All = [Status, Gone, Redirect, Timeout, NoSuchHost, Blocked, Tls, Connection, SecretLost, Stopped];
}

/// <summary>How receivers are reached: in tests, names lead where the test says.</summary>
internal sealed record WebhookReach(Func<string, CancellationToken, Task<IPAddress[]>>? Resolve = null)
{
    /// <summary>Longest for one attempt, name to status.</summary>
    public TimeSpan Longest { get; init; } = TimeSpan.FromSeconds(20);
}

/// <summary>
/// Makes one attempt (Standard Webhooks 1.0.0): a POST with identifier, time and signatures in the header. Redirects are not followed,
/// nothing of the answer but its status is read, and no address is connected to that is not on the open internet.
/// </summary>
internal sealed class WebhookCaller : IDisposable
{
    private static readonly TimeSpan s_toFinish = TimeSpan.FromSeconds(5);
    private static readonly Duration s_longestRest = Duration.FromHours(1);
    private readonly HttpClient http;
    private readonly WebhookKeys keys;
    private readonly WebhookReach reach;
    private readonly IClock clock;

    public WebhookCaller(ServiceOptions options, WebhookReach reach, WebhookKeys keys, IClock clock)
    {
        (this.keys, this.reach, this.clock) = (keys, reach, clock);
        http = new HttpClient(new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseProxy = false,
            UseCookies = false,
            ActivityHeadersPropagator = null,
            ConnectTimeout = TimeSpan.FromSeconds(5),
            PooledConnectionLifetime = TimeSpan.FromMinutes(2),
            MaxResponseHeadersLength = 16,
            MaxResponseDrainSize = 0,
            ConnectCallback = new GuardedConnector(options.LocalReceiverSet, reach.Resolve).ConnectAsync,
        })
        { Timeout = Timeout.InfiniteTimeSpan };
        http.DefaultRequestHeaders.UserAgent.ParseAdd($"FruitWatch/{typeof(WebhookCaller).Assembly.GetName().Version?.ToString(3)}");
    }

    public async Task<CallOutcome> CallAsync(Webhook webhook, WebhookDelivery delivery, CancellationToken stop)
    {
        if (Signatures(webhook, delivery) is not var (timestamp, signatures))
            return new CallOutcome(null, DeliveryErrors.SecretLost);
        using var limit = new CancellationTokenSource(reach.Longest);
        // Told to stop, an attempt that was begun gets a moment to be answered.
        await using var soon = stop.UnsafeRegister(_ => limit.CancelAfter(s_toFinish), null);
        try
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, webhook.Address)
            {
                Content = new ByteArrayContent(Encoding.UTF8.GetBytes(delivery.Body)) { Headers = { ContentType = new("application/json") } },
            };
            request.Headers.Add("webhook-id", delivery.MessageId);
            request.Headers.Add("webhook-timestamp", timestamp.ToString(CultureInfo.InvariantCulture));
            request.Headers.Add("webhook-signature", signatures);
            using var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, limit.Token);
            return Read(answer);
        }
        catch (OperationCanceledException)
        {
            return new CallOutcome(null, DeliveryErrors.Timeout);
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException or SocketException or InvalidOperationException or UriFormatException)
        {
            return new CallOutcome(null, CodeOf(fault));
        }
    }

    public void Dispose() => http.Dispose();

    private (long Timestamp, string Signatures)? Signatures(Webhook webhook, WebhookDelivery delivery)
    {
        if (keys.Open(webhook.SealedSecret) is not { } secret)
            return null;
        var now = clock.GetCurrentInstant();
        var timestamp = now.ToUnixTimeSeconds();
        var signatures = WebhookKeys.Sign(secret, delivery.MessageId, timestamp, delivery.Body);
        // While a secret is being changed the receiver may know either.
        if (webhook.OldSecretUntil > now && keys.Open(webhook.SealedOldSecret) is { } old)
            signatures += " " + WebhookKeys.Sign(old, delivery.MessageId, timestamp, delivery.Body);
        return (timestamp, signatures);
    }

    private CallOutcome Read(HttpResponseMessage answer)
    {
        var status = (int)answer.StatusCode;
        return status switch
        {
            >= 200 and < 300 => new CallOutcome(status, null),
            >= 300 and < 400 => new CallOutcome(status, DeliveryErrors.Redirect),
            StatusCodes.Status410Gone => new CallOutcome(status, DeliveryErrors.Gone),
            _ => new CallOutcome(status, DeliveryErrors.Status, RestOf(answer)),
        };
    }

    private Duration? RestOf(HttpResponseMessage answer)
    {
        var wait = answer.Headers.RetryAfter switch
        {
            { Delta: { } span } => Duration.FromTimeSpan(span),
            { Date: { } moment } => Instant.FromDateTimeOffset(moment) - clock.GetCurrentInstant(),
            _ => Duration.Zero,
        };
        return wait <= Duration.Zero ? null : Duration.Min(wait, s_longestRest);
    }

    private static string CodeOf(Exception fault)
    {
        for (var cause = fault; cause is not null; cause = cause.InnerException)
        {
            switch (cause)
            {
                case BlockedAddressException:
                    return DeliveryErrors.Blocked;
                case AuthenticationException:
                    return DeliveryErrors.Tls;
                case SocketException { SocketErrorCode: SocketError.HostNotFound or SocketError.NoData or SocketError.TryAgain }:
                    return DeliveryErrors.NoSuchHost;
                case SocketException { SocketErrorCode: SocketError.TimedOut }:
                    return DeliveryErrors.Timeout;
            }
        }

        return DeliveryErrors.Connection;
    }
}
