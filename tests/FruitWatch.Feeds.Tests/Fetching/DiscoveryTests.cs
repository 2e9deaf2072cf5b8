using System.Text.Json.Nodes;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

/// <summary>A feed in two steps, as the United States' weather service has it: the point first, then its grid cell.</summary>
public sealed class DiscoveryTests : IDisposable
{
    private const string Host = "api.weather.example";
    private const string Grid = $"https://{Host}/gridpoints/SEW/124,67";

    private readonly PretendNet net = new();
    private readonly Fetcher fetcher;
    private string grid = Grid;
    private Said? pointSays;
    private Said gridSays = Said.Ok with { Type = "application/geo+json" };

    public DiscoveryTests()
    {
        fetcher = new Fetcher(net: net);
        net.Site(Host, asked => asked.Target.StartsWith("/points", StringComparison.Ordinal) ? pointSays ?? Point(grid) : asked.Target == new Uri(grid).AbsolutePath ? gridSays : new Said(404));
        net.Site("elsewhere.example", _ => Said.Ok);
    }

    private static Instant Now => SystemClock.Instance.GetCurrentInstant();

    public void Dispose()
    {
        fetcher.Dispose();
        net.Dispose();
    }

    [Fact]
    public async Task The_point_is_asked_first_and_its_grid_cell_next()
    {
        var fetched = await FetchAsync();

        Assert.Equal([$"{Host}/points/51.02,-2.98", $"{Host}/gridpoints/SEW/124,67"], net.Targets);
        Assert.Equal((Grid, Grid), (fetched.Url, fetched.PlaceUrl));
        Assert.Equal(new Dictionary<string, string> { ["grid"] = Grid, ["timeZone"] = "America/Los_Angeles" }, fetched.Captures!.Values);
        Assert.InRange(fetched.Captures.At, Now - Duration.FromMinutes(1), Now);
        Assert.All(net.Log, asked => Assert.Equal("FruitWatch/1.0 (ops@alder-lane.example)", asked.Header("User-Agent")));
    }

    [Fact]
    public async Task What_was_found_is_kept_and_the_point_is_not_asked_again()
    {
        var kept = (await FetchAsync()).Captures;
        net.Log.Clear();
        Assert.Equal(kept, (await FetchAsync(kept)).Captures);
        Assert.Equal([$"{Host}/gridpoints/SEW/124,67"], net.Targets);
    }

    [Theory]
    [InlineData(8 * 24)]
    [InlineData(-1)]
    public async Task What_was_found_too_long_ago_or_in_the_future_is_found_again(int hoursAgo)
    {
        var kept = new FeedCaptures((await FetchAsync()).Captures!.Values, Now - Duration.FromHours(hoursAgo));
        net.Log.Clear();
        await FetchAsync(kept);
        Assert.Equal(2, net.Log.Count);
    }

    [Theory]
    [InlineData(301)]
    [InlineData(308)]
    [InlineData(404)]
    public async Task A_grid_that_has_moved_is_found_again_once(int status)
    {
        var kept = (await FetchAsync()).Captures!;
        net.Log.Clear();
        grid = $"https://{Host}/gridpoints/SEW/125,68";
        net.Site(Host, asked => asked.Target.StartsWith("/points", StringComparison.Ordinal) ? Point(grid)
            : asked.Target == new Uri(grid).AbsolutePath ? Said.Ok : new Said(status, "", "text/plain", "Location: /somewhere"));

        var fetched = await FetchAsync(kept);

        Assert.Equal([$"{Host}/gridpoints/SEW/124,67", $"{Host}/points/51.02,-2.98", $"{Host}/gridpoints/SEW/125,68"], net.Targets);
        Assert.Equal(grid, fetched.Captures!.Values["grid"]);
    }

    [Fact]
    public async Task A_grid_that_is_not_there_either_is_told_and_not_looked_for_for_ever()
    {
        gridSays = new Said(404);
        var kept = new FeedCaptures(new Dictionary<string, string> { ["grid"] = Grid, ["timeZone"] = "UTC" }, Now);
        Assert.Equal((FeedCodes.NotFound, true), Told(await RefusedAsync(kept)));
        Assert.Equal(3, net.Log.Count);
    }

    [Fact]
    public async Task A_failing_grid_does_not_send_us_back_to_the_point()
    {
        gridSays = new Said(503);
        var kept = new FeedCaptures(new Dictionary<string, string> { ["grid"] = Grid, ["timeZone"] = "UTC" }, Now);
        Assert.Equal(FeedCodes.ServerError, (await RefusedAsync(kept)).Code);
        Assert.DoesNotContain(net.Targets, target => target.Contains("points/5", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_step_that_is_sent_on_to_the_rounded_point_follows()
    {
        net.Site(Host, asked => asked.Target switch
        {
            "/points/51.02,-2.98" => Said.Moved("/points/51.02,-3", 301),
            "/points/51.02,-3" => Point(grid),
            _ => Said.Ok,
        });
        Assert.Equal(Grid, (await FetchAsync()).Url);
    }

    [Theory]
    [InlineData("https://elsewhere.example/gridpoints/1")]
    [InlineData("http://api.weather.example/gridpoints/1")]
    [InlineData("https://api.weather.example:8443/gridpoints/1")]
    [InlineData("https://user@api.weather.example/gridpoints/1")]
    [InlineData("https://api.weather.example.elsewhere.example/")]
    [InlineData("https://127.0.0.1/gridpoints/1")]
    [InlineData("file:///etc/hostname")]
    [InlineData("/gridpoints/1")]
    public async Task An_address_found_must_stay_on_the_host(string found)
    {
        pointSays = Point(found);
        Assert.Equal((FeedCodes.RedirectRefused, true), Told(await RefusedAsync()));
        Assert.Single(net.Log);
    }

    [Fact]
    public async Task An_address_kept_must_stay_on_the_host_as_well()
    {
        var fetched = await FetchAsync(new FeedCaptures(new Dictionary<string, string> { ["grid"] = "https://elsewhere.example/", ["timeZone"] = "UTC" }, Now));
        Assert.Equal(Grid, fetched.Url);
    }

    [Theory]
    [InlineData("""{"properties":{"timeZone":"UTC"}}""", FeedCodes.Missing)]
    [InlineData("""{"properties":{"forecastGridData":null,"timeZone":"UTC"}}""", FeedCodes.Missing)]
    [InlineData("""{"properties":{"forecastGridData":{"a":1},"timeZone":"UTC"}}""", FeedCodes.Missing)]
    [InlineData("""{"properties":{"forecastGridData":"","timeZone":"UTC"}}""", FeedCodes.Missing)]
    [InlineData("{\"properties\"", FeedCodes.InvalidJson)]
    [InlineData("<html>", FeedCodes.NotExpectedType)]
    [InlineData("""{"correlationId":"1","detail":"No such point."}""", FeedCodes.ReportedError)]
    public async Task A_step_that_finds_nothing_says_so(string body, string code)
    {
        pointSays = new Said(200, body);
        var refusal = await RefusedAsync();
        Assert.Equal(code, refusal.Code);
        Assert.Equal(body, refusal.Evidence!.Head);
    }

    [Fact]
    public async Task A_step_may_not_send_more_than_a_quarter_megabyte()
    {
        pointSays = new Said(200, "[" + new string(' ', 300_000) + "]");
        Assert.Equal(FeedCodes.TooLarge, (await RefusedAsync()).Code);
    }

    [Fact]
    public async Task The_address_is_known_beforehand_only_if_the_grid_is()
    {
        Assert.Equal(new FeedAddressed(null, null), fetcher.Client.AddressOf(Described(), Fetcher.Site, new FeedRequest(Fetcher.Today)));
        var kept = (await FetchAsync()).Captures!;
        net.Log.Clear();
        Assert.Equal(new FeedAddressed(Grid, Grid), AddressOf(kept));
        Assert.Equal(new FeedAddressed(null, null), AddressOf(kept with { At = Now - Duration.FromDays(8) }));
        Assert.Empty(net.Log);

        FeedAddressed AddressOf(FeedCaptures captures) =>
            fetcher.Client.AddressOf(Described(), Fetcher.Site, new FeedRequest(Fetcher.Today) { Captures = captures });
    }

    [Fact]
    public async Task What_was_found_may_be_a_part_of_the_address_and_stays_a_part()
    {
        pointSays = new Said(200, """{"properties":{"forecastGridData":"a/../b?c&d","timeZone":"America/Los_Angeles"}}""");
        net.Site(Host, asked => asked.Target.StartsWith("/points", StringComparison.Ordinal) ? pointSays : Said.Ok);
        var fetched = await FetchAsync(change: json => json["request"]!["url"] = $"https://{Host}/cell/{{grid}}?zone={{timeZone}}&from={{start}}");
        Assert.Equal($"https://{Host}/cell/a%2F..%2Fb%3Fc%26d?zone=America%2FLos_Angeles&from=2026-04-28", fetched.Url);
        Assert.Equal($"https://{Host}/cell/a%2F..%2Fb%3Fc%26d?zone=America%2FLos_Angeles&from={{start}}", fetched.PlaceUrl);
    }

    [Fact]
    public async Task Marks_of_another_grid_are_not_asked_with()
    {
        void Conditional(JsonNode json) => json["refresh"]!["conditional"] = "lastModified";
        var before = new FeedValidators(null, "Mon, 04 May 2026 06:00:00 GMT");
        var kept = (await FetchAsync()).Captures!;
        net.Log.Clear();

        await FetchAsync(kept, Conditional, before);
        await FetchAsync(new FeedCaptures(new Dictionary<string, string> { ["grid"] = $"https://{Host}/old", ["timeZone"] = "UTC" }, Now), Conditional, before);

        Assert.Equal([before.LastModified, null], net.Log.Where(asked => asked.Target == "/gridpoints/SEW/124,67").Select(asked => asked.Header("If-Modified-Since")));
    }

    private static (string Code, bool Permanent) Told(FeedException refusal) => (refusal.Code, refusal.Permanent);

    private static Said Point(string grid) => new(
        200, $$$"""{"properties":{"forecastGridData":"{{{grid}}}","timeZone":"America/Los_Angeles"}}""", "application/geo+json");

    private static FeedDescription Described(Action<JsonNode>? change = null) => Fetcher.Described($"https://{Host}/", json =>
    {
        json["request"]!["steps"] = JsonNode.Parse($$$"""
            [{ "name": "point", "url": "https://{{{Host}}}/points/{latitude},{longitude}",
               "capture": { "grid": "/properties/forecastGridData", "timeZone": "/properties/timeZone" },
               "cacheFor": "P7D", "refreshOnStatus": [301, 404] }]
            """);
        json["request"]!["url"] = "{grid}";
        json["request"]!["mustStayOnHost"] = Host;
        json["request"]!["coordinates"] = JsonNode.Parse("""{"decimals":4,"trimZeros":true}""");
        json["request"]!["mediaTypes"] = new JsonArray("application/geo+json", "application/json");
        json["failure"] = JsonNode.Parse("""{"flagAt":"/correlationId","messageAt":"/detail"}""");
        change?.Invoke(json);
    });

    private Task<FetchedFeed> FetchAsync(FeedCaptures? captures = null, Action<JsonNode>? change = null, FeedValidators? ifChanged = null) =>
        fetcher.Client.FetchAsync(Described(change), Fetcher.Site, new FeedRequest(Fetcher.Today) { Captures = captures, IfChanged = ifChanged });

    private Task<FeedException> RefusedAsync(FeedCaptures? captures = null) => Assert.ThrowsAsync<FeedException>(() => FetchAsync(captures));
}
