using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using FruitWatch.Feeds.Fetching;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class EvidenceTests : IDisposable
{
    private const string Key = "s3cret/ké\"y+1";
    private const string Url = "https://alder-lane.example/daily";

    private readonly PretendNet net = new();
    private readonly Fetcher fetcher;

    public EvidenceTests() => fetcher = new Fetcher(net: net);

    public static TheoryData<string> Spellings =>
    [
        Key, Uri.EscapeDataString(Key), Uri.EscapeDataString(Key).ToLowerInvariant(), Convert.ToBase64String(Encoding.UTF8.GetBytes(Key + ":")),
        System.Text.Encodings.Web.JavaScriptEncoder.Default.Encode(Key), System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping.Encode(Key),
    ];

    public void Dispose()
    {
        fetcher.Dispose();
        net.Dispose();
    }

    [Fact]
    public async Task A_refusal_keeps_status_type_length_hash_and_beginning()
    {
        const string Page = "<html>\r\nSign in\u0007 first</html>";
        net.Site("alder-lane.example", _ => new Said(403, Page, "text/html; charset=utf-8"));
        var evidence = (await fetcher.RefusedAsync(Url)).Evidence!;
        Assert.Equal(
            new FeedEvidence(403, "text/html", Page.Length, "<html> \nSign in  first</html>", Hash(Page)),
            evidence);
    }

    [Fact]
    public async Task A_page_in_place_of_data_is_kept_as_well()
    {
        var page = "<html>" + new string('é', 5000);
        net.Site("alder-lane.example", _ => new Said(200, page, "text/html"));
        var evidence = (await fetcher.RefusedAsync(Url)).Evidence!;
        Assert.Equal((200, "text/html", 10_006, Hash(page)), (evidence.Status, evidence.MediaType, evidence.Bytes, evidence.Sha256));
        Assert.Equal(page[..2048], evidence.Head);
    }

    [Fact]
    public async Task Of_what_was_not_read_to_its_end_there_is_no_hash()
    {
        net.Site("alder-lane.example", _ => new Said(500, new string('x', 100_000), "text/plain"));
        var evidence = (await fetcher.RefusedAsync(Url)).Evidence!;
        Assert.Equal((100_000, null, 2048), (evidence.Bytes, evidence.Sha256, evidence.Head!.Length));
    }

    [Theory]
    [MemberData(nameof(Spellings))]
    public async Task A_server_that_quotes_the_key_does_not_get_it_kept(string spelling)
    {
        net.Site("alder-lane.example", _ => new Said(403, $"You have asked with {spelling} and may not.", "text/plain"));
        var refusal = await RefusedAsync();
        Assert.DoesNotContain("s3cret", refusal.Evidence!.Head, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(spelling, refusal.Evidence.Head, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(290)]
    public async Task Nor_does_one_whose_reason_quotes_it(int before)
    {
        var reason = System.Text.Json.JsonSerializer.Serialize(new string('x', before) + " no such key: " + Key);
        net.Site("alder-lane.example", _ => new Said(400, $$"""{"error":true,"reason":{{reason}}}"""));
        var refusal = await RefusedAsync();
        Assert.Equal(FeedCodes.ReportedError, refusal.Code);
        Assert.DoesNotContain("s3", refusal.ToString(), StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("s3", refusal.Evidence!.Head, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [MemberData(nameof(Spellings))]
    public async Task A_good_status_with_the_key_in_its_answer_does_not_get_it_read_or_kept(string spelling)
    {
        net.Site("alder-lane.example", _ => new Said(200, $$"""{"asked":"{{spelling}}","daily":[1,2],"again":"x {{spelling}} y"}"""));
        var fetched = await fetcher.FetchAsync(Url + "?key={key}", WithKey, Key);
        var body = Encoding.UTF8.GetString(fetched.Body.Span);
        Assert.Equal("""{"asked":"{key}","daily":[1,2],"again":"x {key} y"}""", body);
    }

    [Fact]
    public void A_key_as_short_as_a_number_is_left_in_an_answer()
    {
        var body = Encoding.UTF8.GetBytes("""{"tmax":[12,13]}""");
        Assert.Equal(body, Secrets.Without(body, "12"));
    }

    [Fact]
    public void A_key_that_lies_across_the_end_of_what_is_kept_is_not_kept_in_part()
    {
        var body = Encoding.UTF8.GetBytes(new string('x', 2044) + "s3cret-and-long" + new string('y', 100));
        Assert.DoesNotContain("s3c", Secrets.HeadOf(body, 2048, "s3cret-and-long"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_key_is_in_no_log_no_state_and_no_address()
    {
        using var log = new Listening();
        using var services = new ServiceCollection()
            .AddLogging(logging => logging.SetMinimumLevel(LogLevel.Trace).AddProvider(log))
            .AddSingleton<IClock>(SystemClock.Instance)
            .AddFruitWatchFeeds(new FeedClientOptions
            {
                UserAgent = "FruitWatch tests",
                Resolve = net.ResolveAsync,
                Dial = net.DialAsync,
                TrustedRoots = net.Roots,
                RetryDelay = TimeSpan.FromMilliseconds(1),
            })
            .BuildServiceProvider();
        var client = services.GetRequiredService<FeedClient>();
        var description = Fetcher.Described(Url + "?key={key}&from={start}", WithKey);
        var request = new FeedRequest(Fetcher.Today) { Key = Key };
        net.Site("alder-lane.example", _ => new Said(503));
        var refusal = await Assert.ThrowsAsync<FeedException>(() => client.FetchAsync(description, Fetcher.Site, request));
        net.Site("alder-lane.example", _ => Said.Ok);
        var fetched = await client.FetchAsync(description, Fetcher.Site, request);
        services.GetRequiredService<ILoggerFactory>().CreateLogger("test").LogInformation("The listener listens.");

        Assert.Contains(Uri.EscapeDataString(Key), net.Log.Last().Target, StringComparison.Ordinal);
        Assert.NotEmpty(log.Lines);
        Assert.Equal((Url + "?key={key}&from=2026-04-28", Url + "?key={key}&from={start}"), (fetched.Url, fetched.PlaceUrl));
        Assert.Equal(new FeedAddressed(fetched.Url, fetched.PlaceUrl), client.AddressOf(description, Fetcher.Site, request));
        Assert.NotEmpty(client.HostStates());
        Assert.All(
            log.Lines.Concat(client.HostStates().Select(state => state.ToString())).Append(refusal.ToString()).Append(fetched.ToString()).Append(request.ToString()),
            line => Assert.DoesNotContain("s3cret", line, StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public async Task An_error_sentence_behind_a_good_beginning_is_found_and_kept()
    {
        net.Site("alder-lane.example", _ => new Said(200, """{"daily":{"time":["2026-05-05"Unexpected error while streaming data: timeout"""));
        var fetched = await fetcher.FetchAsync(Url);
        var refusal = Assert.Throws<FeedException>(() => FeedReader.Read(Fetcher.Described(Url), fetched.Body, Fetcher.Site, Fetcher.Today, fetched.FetchedAt));
        Assert.Equal(FeedCodes.InvalidJson, refusal.Code);
        Assert.Contains("streaming data: timeout", FeedEvidence.Of(fetched).Head, StringComparison.Ordinal);
    }

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private static void WithKey(JsonNode json) => json["request"]!["secret"] = JsonNode.Parse("""{"placeholder":"key","in":"query"}""");

    private Task<FeedException> RefusedAsync() => fetcher.RefusedAsync(Url + "?key={key}", WithKey, Key);

    private sealed class Listening : ILoggerProvider, ILogger
    {
        public System.Collections.Concurrent.ConcurrentQueue<string> Lines { get; } = new();

        public ILogger CreateLogger(string categoryName) => this;

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            Lines.Enqueue(string.Create(CultureInfo.InvariantCulture, $"{formatter(state, exception)} {exception}"));

        public void Dispose()
        {
        }
    }
}
