using System.Text.Json;
using System.Text.RegularExpressions;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

/// <summary>The shipped descriptions as they are asked: by their own hosts, names and certificates, over the real client.</summary>
public sealed partial class PresetFetchingTests : IDisposable
{
    private static readonly FeedSite Site = new(41.1, -93.2, 300.4, DateTimeZoneProviders.Tzdb["America/Chicago"]) { Station = "ST1" };

    private readonly PretendNet net = new();
    private readonly Fetcher fetcher;

    public PresetFetchingTests() => fetcher = new Fetcher(net: net);

    public static TheoryData<string> Asked => [.. FeedPresets.All.Where(preset => !preset.IsUpload).Select(preset => preset.Id)];

    public void Dispose()
    {
        fetcher.Dispose();
        net.Dispose();
    }

    [Theory]
    [MemberData(nameof(Asked))]
    public async Task A_shipped_feed_asks_its_own_hosts_says_who_asks_and_asks_for_news_as_it_is_described(string id)
    {
        var preset = FeedPresets.Find(id)!;
        var request = JsonDocument.Parse(preset.Json).RootElement.GetProperty("request");
        var hosts = Https().Matches(request.GetRawText()).Select(match => match.Groups[1].Value).Distinct().ToList();
        var type = request.GetProperty("mediaTypes")[0].GetString()!;
        foreach (var host in hosts)
            net.Site(host, asked => asked.Target.StartsWith("/points/", StringComparison.Ordinal)
                ? new Said(200, File.ReadAllText(Samples.PathOf("nws-point.json")), "application/geo+json")
                : new Said(200, "x", type, "ETag: \"a1\"", "Last-Modified: Mon, 04 May 2026 06:00:00 GMT"));

        var first = await FetchAsync(preset, new FeedRequest(new LocalDate(2026, 5, 4)));
        net.Log.Clear();
        var second = await FetchAsync(preset, new FeedRequest(new LocalDate(2026, 5, 4)) { Captures = first.Captures, IfChanged = first.Validators });

        var asked = Assert.Single(net.Log);
        Assert.Contains(asked.Host, hosts);
        Assert.Equal("FruitWatch/1.0 (ops@alder-lane.example)", asked.Header("User-Agent"));
        Assert.Equal(preset.Refresh.Conditional == FeedConditional.LastModified, asked.Header("If-Modified-Since") is not null);
        Assert.Equal(preset.Refresh.Conditional == FeedConditional.Etag, asked.Header("If-None-Match") is not null);
        Assert.Equal((first.Url, first.PlaceUrl), (second.Url, second.PlaceUrl));
        Assert.Equal(first.Url, fetcher.Client.AddressOf(preset, Site, new FeedRequest(new LocalDate(2026, 5, 4)) { Captures = first.Captures }).Url);
        Assert.DoesNotContain("s3cret", first.Url + first.PlaceUrl, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_grid_forecast_is_found_fetched_and_read()
    {
        var preset = FeedPresets.Find("nws-gridpoint")!;
        net.Site("api.weather.gov", asked => new Said(
            200, File.ReadAllText(Samples.PathOf(asked.Target.StartsWith("/points/", StringComparison.Ordinal) ? "nws-point.json" : "nws-gridpoint.json")), "application/geo+json"));
        var today = new LocalDate(2026, 5, 4);

        var fetched = await FetchAsync(preset, new FeedRequest(today));
        var reading = FeedReader.Read(preset, fetched.Body, Site, today, today.At(new LocalTime(6, 0)).InZoneLeniently(Site.Zone).ToInstant());

        Assert.Equal(["api.weather.gov/points/41.1,-93.2", "api.weather.gov/gridpoints/ZZZ/11,22"], net.Targets);
        Assert.Equal("America/Chicago", fetched.Captures!.Values["timeZone"]);
        Assert.Equal(17.22, reading.Days.Single(day => day.Date == today).Tmax!.Value, 2);
    }

    private Task<FetchedFeed> FetchAsync(FeedDescription preset, FeedRequest request) =>
        fetcher.Client.FetchAsync(preset, Site, request with { Key = preset.NeedsKey ? "s3cret" : null });

    [GeneratedRegex("https://([^/\"{]+)")]
    private static partial Regex Https();
}
