using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>A success, looked at before it is believed.</summary>
internal static class HttpAnswer
{
    private static readonly Duration LongestExpiry = Duration.FromDays(1);

    public static async Task<FetchedFeed> ReadAsync(
        HttpResponseMessage response, FeedDescription description, FeedAsk ask, IClock clock, CancellationToken cancellation)
    {
        var asked = description.Request;
        var type = response.Content.Headers.ContentType?.MediaType?.ToLowerInvariant();
        if (type is null || !asked.MediaTypes.Contains(type, StringComparer.OrdinalIgnoreCase))
            throw new FeedException(
                FeedCodes.NotExpectedType,
                $"The answer is {(type is null ? "of no stated type" : $"\"{FailureDescription.Quoted(type)}\"")} and not {string.Join(" or ", asked.MediaTypes)}.",
                ask.ShownUrl,
                "Try the address in a browser; list the type under request.mediaTypes if it is right.");
        if (response.Content.Headers.ContentLength > asked.MaxBytes)
            throw BoundedBody.TooLarge(asked.MaxBytes, ask.ShownUrl);
        await using var stream = await response.Content.ReadAsStreamAsync(cancellation);
        var body = await BoundedBody.ReadAsync(stream, asked.MaxBytes, ask.ShownUrl, cancellation);
        if (asked.Gzip)
            body = await BoundedBody.UnpackAsync(body, asked.MaxBytes, ask.ShownUrl, cancellation);
        var now = clock.GetCurrentInstant();
        return new FetchedFeed(Body.Checked(body).ToArray(), type, now, ask.ShownUrl)
        {
            LastModified = InstantOf(response.Content.Headers.LastModified),
            Expires = Expiry(response, now),
            Validators = new FeedValidators(response.Headers.ETag?.ToString(), response.Content.Headers.LastModified?.ToString("R")),
            Notes = NotesOn(response, description, ask),
        };
    }

    private static Instant? Expiry(HttpResponseMessage response, Instant now)
    {
        var until = response.Headers.CacheControl?.MaxAge is { } age
            ? now + Duration.FromTimeSpan(age)
            : InstantOf(response.Content.Headers.Expires);
        return until is { } known ? Instant.Min(known, now + LongestExpiry) : null;
    }

    private static IReadOnlyList<FeedProblem> NotesOn(HttpResponseMessage response, FeedDescription description, FeedAsk ask)
    {
        var status = (int)response.StatusCode;
        return status == 203 || description.Refresh.DeprecatedStatus.Contains(status)
            ? [new FeedProblem(FeedCodes.Deprecated, $"{ask.Uri.Host} says that this version of its service is about to go (status {status}).", ask.ShownUrl, 1)]
            : [];
    }

    private static Instant? InstantOf(DateTimeOffset? time) => time is { } known ? Instant.FromDateTimeOffset(known) : null;
}
