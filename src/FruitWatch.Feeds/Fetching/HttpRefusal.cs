using System.Net;
using System.Text;
using System.Text.Json;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>What a status other than success means for a feed.</summary>
internal static class HttpRefusal
{
    private static readonly Duration LongestPause = Duration.FromDays(1);

    public static async Task<FeedException> OfAsync(
        HttpResponseMessage response, FeedDescription description, FeedAsk ask, Instant now, CancellationToken cancellation)
    {
        var status = (int)response.StatusCode;
        var glimpse = await Glimpse.OfAsync(response.Content, cancellation);
        var reason = ReasonIn(glimpse, response, description, ask);
        var quoted = reason is null ? "" : $" It says: \"{reason}\".";
        var host = ask.Uri.Host;
        return response.StatusCode switch
        {
            >= HttpStatusCode.MultipleChoices and < HttpStatusCode.BadRequest when Target(response, ask) is { } target =>
                Refusal(
                    FeedCodes.RedirectRefused,
                    $"{host} sends us on to {Secrets.Without(target.GetLeftPart(UriPartial.Path), ask.Key)}.",
                    "Put the new address into the description, if you trust it."),
            HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden =>
                Refusal(
                    FeedCodes.Forbidden,
                    $"{host} does not let us in (status {status}).{quoted}",
                    "Check the key and the user agent; the feed is not asked again until something is changed."),
            HttpStatusCode.NotFound or HttpStatusCode.Gone or HttpStatusCode.UnprocessableEntity =>
                Refusal(
                    FeedCodes.NotFound,
                    $"{host} does not know what was asked for (status {status}).{quoted}",
                    "Check the address, the station and whether the feed covers this place."),
            HttpStatusCode.TooManyRequests =>
                Refusal(
                    FeedCodes.RateLimited,
                    $"{host} asks for fewer requests.{quoted}",
                    "It is asked again after the pause; ask it less often if this keeps coming."),
            HttpStatusCode.BadRequest when reason is not null =>
                Refusal(FeedCodes.ReportedError, $"The feed reports an error: \"{reason}\".", "Correct what it names in the request."),
            HttpStatusCode.RequestTimeout or >= HttpStatusCode.InternalServerError =>
                Refusal(FeedCodes.ServerError, $"{host} failed (status {status}).{quoted}", "It will be asked again; nothing needs to be done."),
            _ => Refusal(
                FeedCodes.UnexpectedStatus,
                $"{host} answered with status {status}, which gives no data.{quoted}",
                "Try the address in a browser and correct the description."),
        };

        FeedException Refusal(string code, string sentence, string mend) => new(code, sentence, ask.ShownUrl, mend)
        {
            Status = status,
            RetryAfter = RetryAfter(response, now),
            Evidence = glimpse.Evidence(response, ask.Key),
        };
    }

    /// <summary>Where a redirect leads, for those that are ever followed.</summary>
    public static Uri? MovedTo(HttpResponseMessage response, FeedAsk ask) =>
        (int)response.StatusCode is 301 or 302 or 303 or 307 or 308 ? Target(response, ask) : null;

    /// <summary>The wait a server asks for, from its own words and our clock; at most a day.</summary>
    public static Duration? RetryAfter(HttpResponseMessage response, Instant now)
    {
        var wish = response.Headers.RetryAfter;
        Duration? wait = wish?.Delta is { } delta ? Duration.FromTimeSpan(delta)
            : wish?.Date is { } date ? Instant.FromDateTimeOffset(date) - now
            : null;
        return wait is { } known ? Duration.Max(Duration.Zero, Duration.Min(known, LongestPause)) : null;
    }

    private static Uri? Target(HttpResponseMessage response, FeedAsk ask) =>
        response.Headers.Location is { } location && Uri.TryCreate(ask.Uri, location, out var target) && target.Scheme is "http" or "https"
            ? target
            : null;

    private static string? ReasonIn(Glimpse glimpse, HttpResponseMessage response, FeedDescription description, FeedAsk ask)
    {
        var type = response.Content.Headers.ContentType?.MediaType ?? "";
        if (description.Failure is not { } failure || !glimpse.Whole || !type.Contains("json", StringComparison.OrdinalIgnoreCase))
            return null;
        try
        {
            // Before it is read as well as after: a reason is cut to length, and a key at its end with it.
            using var document = JsonDocument.Parse(Secrets.Without(Encoding.UTF8.GetString(Body.Checked(glimpse.Body).Span), ask.Key));
            return failure.ReasonIn(document.RootElement) is { } reason ? Secrets.Without(reason, ask.Key) : null;
        }
        catch (Exception fault) when (fault is JsonException or FeedException)
        {
            return null; // The status alone must do.
        }
    }
}
