namespace FruitWatch.Feeds.Fetching;

/// <summary>The beginning of an answer that is refused anyway: for its reason, and as evidence. Never worth a failure or a long wait.</summary>
/// <param name="Body">What came of it.</param>
/// <param name="Whole">Whether that is all.</param>
internal sealed record Glimpse(ReadOnlyMemory<byte> Body, bool Whole)
{
    private const int Most = 65_536;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    public static async Task<Glimpse> OfAsync(HttpContent content, CancellationToken cancellation)
    {
        var body = new MemoryStream();
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        limit.CancelAfter(Patience);
        try
        {
            await using var stream = await content.ReadAsStreamAsync(limit.Token);
            var whole = await BoundedBody.ReadAsync(stream, Most, body, limit.Token);
            return new Glimpse(BoundedBody.Of(body), whole);
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException or InvalidDataException || IsOurs(fault, cancellation))
        {
            return new Glimpse(BoundedBody.Of(body), false);
        }
    }

    public FeedEvidence Evidence(HttpResponseMessage response, string? key) => FeedEvidence.Of(
        (int)response.StatusCode, response.Content.Headers.ContentType?.MediaType, Body, Whole, response.Content.Headers.ContentLength, key);

    private static bool IsOurs(Exception fault, CancellationToken cancellation) =>
        fault is OperationCanceledException && !cancellation.IsCancellationRequested;
}
