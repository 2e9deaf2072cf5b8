using System.IO.Compression;
using NodaTime;
using WireMock.RequestBuilders;
using WireMock.ResponseBuilders;
using WireMock.Server;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class FeedClientTests : IDisposable
{
    private const string Scenario = "changes";

    private readonly WireMockServer server = WireMockServer.Start();
    private readonly Fetcher fetcher = new();

    private string Url => server.Url + "/daily";

    public void Dispose()
    {
        server.Dispose();
        fetcher.Dispose();
    }

    [Fact]
    public async Task An_answer_comes_with_its_type_its_time_and_the_address_asked()
    {
        Answer(Response.Create().WithBody(Good).WithHeader("Content-Type", "application/json; charset=utf-8"));
        var before = SystemClock.Instance.GetCurrentInstant();

        var fetched = await fetcher.FetchAsync(Url + "?latitude={latitude}&zone={timeZone}");

        Assert.Equal(Good, fetched.Body.ToArray());
        Assert.Equal("application/json", fetched.MediaType);
        Assert.InRange(fetched.FetchedAt, before, SystemClock.Instance.GetCurrentInstant());
        Assert.Equal(Url + "?latitude=51.0200&zone=Europe%2FLondon", fetched.Url);
    }

    [Fact]
    public async Task The_provider_is_told_who_asks()
    {
        Answer(Ok());
        await fetcher.FetchAsync(Url);

        var headers = server.LogEntries.Single().RequestMessage!.Headers!;
        // A mail address is no token of a User-Agent, yet providers ask for it; it must arrive as written.
        Assert.Equal("FruitWatch/1.0 (ops@alder-lane.example)", headers["User-Agent"].Single());
        Assert.Contains("br", headers["Accept-Encoding"].Single(), StringComparison.Ordinal);
        Assert.DoesNotContain("Cookie", headers.Keys);
    }

    [Fact]
    public async Task A_failure_followed_by_an_answer_is_an_answer()
    {
        FirstThen(Response.Create().WithStatusCode(500), Ok());
        await fetcher.FetchAsync(Url);
        Assert.Equal(2, server.LogEntries.Count);
    }

    [Fact]
    public async Task A_server_that_keeps_failing_is_asked_three_times()
    {
        Answer(Response.Create().WithStatusCode(503));
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal((FeedCodes.ServerError, false, 503), (refusal.Code, refusal.Permanent, refusal.Status));
        Assert.Equal(3, server.LogEntries.Count);
    }

    [Theory]
    [InlineData(401, FeedCodes.Forbidden, true)]
    [InlineData(403, FeedCodes.Forbidden, true)]
    [InlineData(404, FeedCodes.NotFound, true)]
    [InlineData(422, FeedCodes.NotFound, true)]
    [InlineData(501, FeedCodes.ServerError, false)]
    [InlineData(204, FeedCodes.UnexpectedStatus, false)]
    [InlineData(418, FeedCodes.UnexpectedStatus, false)]
    public async Task A_refusal_that_will_not_change_soon_is_not_asked_for_again(int status, string code, bool permanent)
    {
        Answer(Response.Create().WithStatusCode(status));
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal((code, permanent), (refusal.Code, refusal.Permanent));
        Assert.Equal(Url, refusal.Place);
        Assert.Single(server.LogEntries);
    }

    [Fact]
    public async Task The_feeds_own_reason_for_a_bad_request_is_shown()
    {
        Answer(Response.Create().WithStatusCode(400).WithHeader("Content-Type", "application/json")
            .WithBody("""{"error":true,"reason":"Latitude must be in range of -90 to 90°."}"""));
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal(FeedCodes.ReportedError, refusal.Code);
        Assert.Contains("Latitude must be in range", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_redirect_is_refused_and_names_where_it_leads_without_its_query()
    {
        Answer(Response.Create().WithStatusCode(301).WithHeader("Location", "https://elsewhere.example/elsewhere?token=s3cret"));
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal(FeedCodes.RedirectRefused, refusal.Code);
        Assert.Contains("/elsewhere", refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("s3cret", refusal.Message, StringComparison.Ordinal);
        Assert.Single(server.LogEntries);
    }

    [Fact]
    public async Task A_web_page_in_place_of_data_is_refused_at_once()
    {
        Answer(Response.Create().WithBody("<html>Sign in</html>").WithHeader("Content-Type", "text/html"));
        Assert.Equal(FeedCodes.NotExpectedType, (await fetcher.RefusedAsync(Url)).Code);
        Assert.Single(server.LogEntries);
    }

    [Fact]
    public async Task A_web_page_that_calls_itself_json_is_refused_as_well()
    {
        Answer(Response.Create().WithBody("\n <html>Sign in</html>").WithHeader("Content-Type", "application/json"));
        Assert.Equal(FeedCodes.NotExpectedType, (await fetcher.RefusedAsync(Url)).Code);
    }

    [Fact]
    public async Task A_body_longer_than_allowed_is_refused()
    {
        Answer(Response.Create().WithBody(new string(' ', 2000) + "{}").WithHeader("Content-Type", "application/json"));
        var refusal = await fetcher.RefusedAsync(Url, json => json["request"]!["maxBytes"] = 1024);
        Assert.Equal((FeedCodes.TooLarge, true), (refusal.Code, refusal.Permanent));
        Assert.Single(server.LogEntries);
    }

    [Fact]
    public async Task A_small_packed_body_that_unpacks_to_a_large_one_is_refused()
    {
        var packed = Packed(new byte[50 * 1024 * 1024]);
        Assert.True(packed.Length < 524_288, "the packed form must pass the limit, or the test shows nothing");
        Answer(Response.Create().WithBody(packed).WithHeader("Content-Type", "application/json").WithHeader("Content-Encoding", "gzip"));
        Assert.Equal(FeedCodes.TooLarge, (await fetcher.RefusedAsync(Url)).Code);
    }

    [Fact]
    public async Task A_packed_body_is_unpacked()
    {
        Answer(Response.Create().WithBody(Packed(Good)).WithHeader("Content-Type", "application/json").WithHeader("Content-Encoding", "gzip"));
        Assert.Equal(Good, (await fetcher.FetchAsync(Url)).Body.ToArray());
    }

    [Fact]
    public async Task A_packed_file_is_unpacked_once_however_the_server_labels_it()
    {
        Answer(Response.Create().WithBody(Packed(Good)).WithHeader("Content-Type", "application/json"));
        Assert.Equal(Good, (await fetcher.FetchAsync(Url, json => json["request"]!["fileEncoding"] = "gzip")).Body.ToArray());
    }

    [Fact]
    public async Task A_body_packed_twice_is_told_from_data()
    {
        Answer(Response.Create().WithBody(Packed(Packed(Good))).WithHeader("Content-Type", "application/json").WithHeader("Content-Encoding", "gzip"));
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal(FeedCodes.NotExpectedType, refusal.Code);
        Assert.Contains("fileEncoding", refusal.Mend, StringComparison.Ordinal);
        Assert.Equal(Good, (await fetcher.FetchAsync(Url, json => json["request"]!["fileEncoding"] = "gzip")).Body.ToArray());
    }

    [Fact]
    public async Task A_file_packed_more_than_once_is_refused()
    {
        Answer(Response.Create().WithBody(Packed(Packed(Good))).WithHeader("Content-Type", "application/json"));
        Assert.Contains("more than once", (await fetcher.RefusedAsync(Url, json => json["request"]!["fileEncoding"] = "gzip")).Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("zstd")]
    [InlineData("compress")]
    public async Task Packing_that_nobody_asked_for_is_refused(string packing)
    {
        Answer(Response.Create().WithBody(Good).WithHeader("Content-Type", "application/json").WithHeader("Content-Encoding", packing));
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal(FeedCodes.NotExpectedType, refusal.Code);
        Assert.Contains(packing, refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_empty_answer_is_asked_for_again()
    {
        FirstThen(Response.Create().WithBody("").WithHeader("Content-Type", "application/json"), Ok());
        await fetcher.FetchAsync(Url);
        Assert.Equal(2, server.LogEntries.Count);
    }

    [Fact]
    public async Task A_version_about_to_go_is_used_and_noted()
    {
        Answer(Ok().WithStatusCode(203));
        Assert.Equal([FeedCodes.Deprecated], (await fetcher.FetchAsync(Url)).Notes.Select(note => note.Code));
    }

    [Fact]
    public async Task What_the_server_says_about_age_is_handed_on_but_never_for_more_than_a_day()
    {
        Answer(Ok().WithHeader("Last-Modified", "Mon, 04 May 2026 06:00:00 GMT").WithHeader("Cache-Control", "max-age=864000").WithHeader("ETag", "\"a1\""));
        var fetched = await fetcher.FetchAsync(Url);
        Assert.Equal(Instant.FromUtc(2026, 5, 4, 6, 0), fetched.LastModified);
        Assert.Equal(fetched.FetchedAt + Duration.FromDays(1), fetched.Expires);
        Assert.Equal("\"a1\"", fetched.Validators.Etag);
    }

    [Fact]
    public async Task The_key_reaches_the_server_and_nothing_else()
    {
        Answer(Response.Create().WithStatusCode(403));
        var refusal = await fetcher.RefusedAsync(Url + "?apikey={key}", WithKey, "s3cret&more");
        Assert.Equal("s3cret&more", server.LogEntries.Single().RequestMessage!.Query!["apikey"].Single());
        Assert.DoesNotContain("s3cret", refusal.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("s3cret", new FeedRequest(Fetcher.Today) { Key = "s3cret" }.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_missing_key_is_asked_for_before_anything_is_sent()
    {
        var refusal = await fetcher.RefusedAsync(Url + "?apikey={key}", WithKey);
        Assert.Equal(FeedCodes.RequestIncomplete, refusal.Code);
        Assert.Empty(server.LogEntries);
    }

    [Fact]
    public async Task Giving_up_is_not_a_failure_of_the_feed()
    {
        Answer(Ok().WithDelay(TimeSpan.FromSeconds(20)));
        using var patience = new CancellationTokenSource(TimeSpan.FromMilliseconds(300));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() =>
            fetcher.FetchAsync(Url, new FeedRequest(Fetcher.Today), cancellation: patience.Token));
    }

    private static byte[] Good { get; } = File.ReadAllBytes(Samples.PathOf("open-meteo-daily.json"));

    private static void WithKey(System.Text.Json.Nodes.JsonNode json) =>
        json["request"]!["secret"] = System.Text.Json.Nodes.JsonNode.Parse("""{"placeholder":"key","in":"query"}""");

    private static IResponseBuilder Ok() => Response.Create().WithBody(Good).WithHeader("Content-Type", "application/json");

    private static byte[] Packed(byte[] body)
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.SmallestSize))
            gzip.Write(body);
        return packed.ToArray();
    }

    private void Answer(IResponseBuilder response) => server.Given(Request.Create().WithPath("/daily")).RespondWith(response);

    private void FirstThen(IResponseBuilder first, IResponseBuilder then)
    {
        server.Given(Request.Create().WithPath("/daily")).InScenario(Scenario).WillSetStateTo("later").RespondWith(first);
        server.Given(Request.Create().WithPath("/daily")).InScenario(Scenario).WhenStateIs("later").RespondWith(then);
    }
}
