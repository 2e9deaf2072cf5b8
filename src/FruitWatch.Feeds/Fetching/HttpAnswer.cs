using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>A success, looked at before it is believed.</summary>
internal static class HttpAnswer
{
    /// <exception cref="FeedException">It is not what the description allows; with evidence.</exception>
    public static async Task<FetchedFeed> ReadAsync(
        HttpResponseMessage response, FeedDescription description, FeedAsk ask, IClock clock, CancellationToken cancellation)
    {
        var type = response.Content.Headers.ContentType?.MediaType?.ToLowerInvariant();
        if (Objection(response, ask, type) is { } refusal)
        {
            refusal.Evidence = (await Glimpse.OfAsync(response.Content, cancellation)).Evidence(response, ask.Key);
            throw refusal;
        }
        var read = new MemoryStream();
        var whole = false;
        try
        {
            if (response.Content.Headers.ContentLength > ask.Limits.MaxBytes)
                throw BoundedBody.TooLarge(ask.Limits.MaxBytes, ask.ShownUrl);
            await using var stream = await response.Content.ReadAsStreamAsync(cancellation);
            whole = await BoundedBody.ReadAsync(stream, ask.Limits.MaxBytes, read, cancellation);
            var body = whole ? await CheckedAsync(BoundedBody.Of(read), ask, cancellation) : throw BoundedBody.TooLarge(ask.Limits.MaxBytes, ask.ShownUrl);
            var now = clock.GetCurrentInstant();
            return Stamped(new FetchedFeed(Secrets.Without(body, ask.Key), type!, now, ask.ShownUrl), response, description, ask, now);
        }
        catch (FeedException fault)
        {
            fault.Evidence = Evidence();
            throw;
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException or InvalidDataException && !cancellation.IsCancellationRequested)
        {
            throw new FeedException(
                FeedCodes.CutShort, $"The connection to {ask.Uri.Host} broke before the whole answer had come.", ask.ShownUrl, "It will be asked again.", fault)
            { Evidence = Evidence() };
        }

        FeedEvidence Evidence() => new Glimpse(BoundedBody.Of(read), whole).Evidence(response, ask.Key);
    }

    /// <summary>The server says that nothing has changed since what was asked with.</summary>
    public static FetchedFeed Unchanged(HttpResponseMessage response, FeedDescription description, FeedAsk ask, Instant now)
    {
        var answer = Stamped(new FetchedFeed(ReadOnlyMemory<byte>.Empty, "", now, ask.ShownUrl) { NotModified = true }, response, description, ask, now);
        // A 304 need not repeat the marks of the version that still holds.
        return answer with
        {
            Validators = new FeedValidators(answer.Validators.Etag ?? ask.IfChanged?.Etag, answer.Validators.LastModified ?? ask.IfChanged?.LastModified),
        };
    }

    private static FetchedFeed Stamped(FetchedFeed answer, HttpResponseMessage response, FeedDescription description, FeedAsk ask, Instant now)
    {
        var validators = Freshness.ValidatorsOf(response, now);
        return answer with
        {
            PlaceUrl = ask.PlaceUrl,
            Validators = validators,
            LastModified = Freshness.InstantOf(validators.LastModified),
            Expires = description.Refresh.HonourExpires ? Freshness.ExpiryOf(response, now) : null,
            Notes = NotesOn(response, description, ask),
        };
    }

    private static FeedException? Objection(HttpResponseMessage response, FeedAsk ask, string? type)
    {
        if (type is null || !ask.Limits.Takes(type))
            return new FeedException(
                FeedCodes.NotExpectedType,
                $"The answer is {(type is null ? "of no stated type" : $"\"{FailureDescription.Quoted(type)}\"")} and not {string.Join(" or ", ask.Limits.MediaTypes)}.",
                ask.ShownUrl,
                "Try the address in a browser; list the type under request.mediaTypes if it is right.");
        // The handler has taken off the packing it knows.
        return response.Content.Headers.ContentEncoding.Count == 0
            ? null
            : new FeedException(
                FeedCodes.NotExpectedType,
                $"The answer is packed in a way that is not read: {FailureDescription.Quoted(string.Join(", ", response.Content.Headers.ContentEncoding))}.",
                ask.ShownUrl,
                "Tell the provider: gzip, deflate and br were asked for, once.");
    }

    private static async Task<ReadOnlyMemory<byte>> CheckedAsync(ReadOnlyMemory<byte> body, FeedAsk ask, CancellationToken cancellation)
    {
        if (ask.Limits.Gzip)
            body = await BoundedBody.UnpackAsync(body, ask.Limits.MaxBytes, ask.ShownUrl, cancellation);
        return BoundedBody.IsPacked(body)
            ? throw new FeedException(
                FeedCodes.NotExpectedType,
                ask.Limits.Gzip ? "The file is packed more than once." : "The answer is a packed file (gzip).",
                ask.ShownUrl,
                ask.Limits.Gzip ? "Tell the provider." : "Set request.fileEncoding to \"gzip\".")
            : Body.Checked(body);
    }

    private static IReadOnlyList<FeedProblem> NotesOn(HttpResponseMessage response, FeedDescription description, FeedAsk ask)
    {
        var status = (int)response.StatusCode;
        return status == 203 || description.Refresh.DeprecatedStatus.Contains(status)
            ? [new FeedProblem(FeedCodes.Deprecated, $"{ask.Uri.Host} says that this version of its service is about to go (status {status}).", ask.ShownUrl, 1)]
            : [];
    }
}
