using System.Security.Cryptography.X509Certificates;
using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

/// <summary>A client whose waits are short, and descriptions that point it at a server of the test.</summary>
internal sealed class Fetcher : IDisposable
{
    public static readonly LocalDate Today = new(2026, 5, 5);

    private readonly HashSet<string> stations = [];
    private readonly ServiceProvider services;

    public Fetcher(TimeSpan? deadline = null, int failuresToRest = 100, PretendNet? net = null, int perSecond = 1000, X509Certificate2Collection? roots = null)
    {
        services = new ServiceCollection()
            .AddSingleton<IClock>(SystemClock.Instance)
            .AddSingleton<TimeProvider>(Time)
            .AddFruitWatchFeeds(new FeedClientOptions
            {
                UserAgent = "FruitWatch/1.0 (ops@alder-lane.example)",
                LocalStations = stations,
                RetryDelay = TimeSpan.FromMilliseconds(1),
                ShortestRetryAfter = TimeSpan.FromMilliseconds(1),
                FailuresToRest = failuresToRest,
                Rest = TimeSpan.FromMinutes(10),
                Deadline = deadline ?? TimeSpan.FromSeconds(30),
                PerSecond = perSecond,
                Resolve = net is null ? null : net.ResolveAsync,
                Dial = net is null ? null : net.DialAsync,
                TrustedRoots = roots ?? net?.Roots,
            })
            .BuildServiceProvider();
    }

    public ShiftedTime Time { get; } = new();

    public FeedClient Client => services.GetRequiredService<FeedClient>();

    /// <summary>The daily preset, asking another address, changed further if need be.</summary>
    public static FeedDescription Described(string url, Action<JsonNode>? change = null)
    {
        var json = JsonNode.Parse(FeedPresets.Find("open-meteo-daily")!.Json)!;
        json["request"]!["url"] = url;
        change?.Invoke(json);
        return FeedDescription.Parse(json.ToJsonString(), new HashSet<string> { new Uri(url).Authority });
    }

    public Task<FetchedFeed> FetchAsync(string url, Action<JsonNode>? change = null, string? key = null) =>
        FetchAsync(url, new FeedRequest(Today) { Key = key }, change);

    public Task<FetchedFeed> FetchAsync(string url, FeedRequest request, Action<JsonNode>? change = null, CancellationToken cancellation = default)
    {
        Allow(url);
        return Client.FetchAsync(Described(url, change), Site, request, cancellation);
    }

    public Task<FeedException> RefusedAsync(string url, Action<JsonNode>? change = null, string? key = null) =>
        Assert.ThrowsAsync<FeedException>(() => FetchAsync(url, change, key));

    public Task<FeedException> RefusedAsync(string url, FeedRequest request, Action<JsonNode>? change = null) =>
        Assert.ThrowsAsync<FeedException>(() => FetchAsync(url, request, change));

    /// <summary>Lets the client ask this host and port on loopback, as an operator would.</summary>
    public void Allow(string url) => stations.Add(new Uri(url).Authority);

    public static FeedSite Site { get; } = new(51.02, -2.98, 14, DateTimeZoneProviders.Tzdb["Europe/London"]);

    public void Dispose() => services.Dispose();
}

/// <summary>The system's time, moved forward at will; timers keep their own pace.</summary>
internal sealed class ShiftedTime : TimeProvider
{
    public TimeSpan Shift { get; set; }

    public override DateTimeOffset GetUtcNow() => base.GetUtcNow() + Shift;
}
