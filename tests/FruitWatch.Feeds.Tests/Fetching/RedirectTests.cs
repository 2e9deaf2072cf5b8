using System.Net;
using System.Text.Json.Nodes;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class RedirectTests : IDisposable
{
    private const string Url = "https://alder-lane.example/daily";

    private readonly PretendNet net = new();
    private readonly Fetcher fetcher;

    public RedirectTests()
    {
        fetcher = new Fetcher(net: net);
        net.Site("elsewhere.example", _ => Said.Ok);
        net.Site("data.alder-lane.example", _ => Said.Ok);
    }

    public void Dispose()
    {
        fetcher.Dispose();
        net.Dispose();
    }

    [Theory]
    [InlineData(301)]
    [InlineData(302)]
    [InlineData(303)]
    [InlineData(307)]
    [InlineData(308)]
    public async Task A_move_on_the_same_host_is_followed(int status)
    {
        Site(asked => asked.Target == "/daily" ? Said.Moved("/new/daily?x=1", status) : Said.Ok);
        var fetched = await fetcher.FetchAsync(Url);
        Assert.Equal(["alder-lane.example/daily", "alder-lane.example/new/daily?x=1"], net.Targets);
        Assert.Equal((Url, Url), (fetched.Url, fetched.PlaceUrl));
    }

    [Fact]
    public async Task Three_moves_are_followed_and_no_fourth()
    {
        var moves = 3;
        Site(asked => asked.Target == $"/daily{new string('+', moves)}" ? Said.Ok : Said.Moved(asked.Target + "+"));
        await fetcher.FetchAsync(Url);
        moves = 4;
        net.Log.Clear();
        await RefusedAsync(Url, "More than 3");
        Assert.Equal(4, net.Log.Count);
    }

    [Fact]
    public async Task A_circle_is_left_at_once()
    {
        Site(asked => Said.Moved(asked.Target == "/daily" ? "/other" : "/daily"));
        await RefusedAsync(Url, "circle");
        Assert.Equal(2, net.Log.Count);
    }

    [Theory]
    [InlineData("https://elsewhere.example/daily", "another host")]
    [InlineData("//elsewhere.example/daily", "another host")]
    [InlineData("https://alder-lane.example.elsewhere.example/daily", "another host")]
    [InlineData("http://alder-lane.example/daily", "https")]
    [InlineData("https://alder-lane.example:8443/daily", "port")]
    [InlineData("https://alder-lane.example@elsewhere.example/daily", "user name")]
    [InlineData("https://127.0.0.1/", "another host")]
    [InlineData("https://[::1]/", "another host")]
    [InlineData("http://169.254.169.254/latest/meta-data/", "https")]
    [InlineData("https://2130706433/", "another host")]
    public async Task Where_the_description_does_not_lead_a_server_does_not_either(string location, string why)
    {
        Site(_ => Said.Moved(location));
        await RefusedAsync(Url, why);
        Assert.Single(net.Log);
        Assert.All(net.Dialled, address => Assert.Equal(IPAddress.Parse("8.8.4.4"), address));
    }

    [Theory]
    [InlineData("file:///etc/passwd")]
    [InlineData("ftp://alder-lane.example/")]
    [InlineData("gopher://127.0.0.1:25/")]
    public async Task Other_ways_than_the_web_are_not_gone(string location)
    {
        Site(_ => Said.Moved(location));
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal(FeedCodes.UnexpectedStatus, refusal.Code);
        Assert.Single(net.Log);
    }

    [Fact]
    public async Task A_host_whose_name_comes_to_mean_the_own_network_is_not_followed_there()
    {
        var lookups = 0;
        net.Names["data.alder-lane.example"] = () => lookups++ == 0 ? [IPAddress.Parse("127.0.0.1")] : [IPAddress.Parse("8.8.8.8")];
        Site(_ => Said.Moved("https://data.alder-lane.example/daily"));
        var refusal = await fetcher.RefusedAsync(Url, Today(), Named);
        Assert.Equal((FeedCodes.BlockedAddress, true), (refusal.Code, refusal.Permanent));
        Assert.DoesNotContain("127.0.0.1", refusal.ToString(), StringComparison.Ordinal);
        Assert.Equal(1, lookups);
        Assert.All(net.Dialled, address => Assert.Equal(IPAddress.Parse("8.8.4.4"), address));
    }

    [Fact]
    public async Task A_host_the_description_names_is_followed_but_learns_nothing()
    {
        Site(_ => Said.Moved("https://data.alder-lane.example/daily"));
        await FetchWithSecretsAsync(json =>
        {
            Named(json);
            json["refresh"]!["conditional"] = "lastModified";
        });

        var (first, second) = (net.Log.First(), net.Log.Last());
        Assert.Equal(("alder-lane.example", "s3cret", "plot 7"), (first.Host, first.Header("X-Api-Key"), first.Header("X-Note")));
        Assert.Equal("Mon, 04 May 2026 06:00:00 GMT", first.Header("If-Modified-Since"));
        Assert.Equal("data.alder-lane.example", second.Host);
        Assert.Equal(["Accept", "Accept-Encoding", "Host", "User-Agent"], second.Headers.Keys.Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Where_the_description_says_to_stay_on_a_host_no_other_will_do()
    {
        Site(_ => Said.Moved("https://data.alder-lane.example/daily"));
        var refusal = await fetcher.RefusedAsync(Url, Today(), json =>
        {
            Named(json);
            json["request"]!["mustStayOnHost"] = "alder-lane.example";
        });
        Assert.Equal(FeedCodes.RedirectRefused, refusal.Code);
        Assert.Single(net.Log);
    }

    [Fact]
    public async Task On_the_same_host_the_key_goes_along()
    {
        Site(asked => asked.Target == "/daily" ? Said.Moved("/new") : Said.Ok);
        await FetchWithSecretsAsync();
        Assert.All(net.Log, asked => Assert.Equal("s3cret", asked.Header("X-Api-Key")));
    }

    [Fact]
    public async Task A_server_that_quotes_the_key_in_the_new_address_has_it_neither_carried_nor_shown()
    {
        Site(asked => Said.Moved("https://data.alder-lane.example" + asked.Target));
        var refusal = await fetcher.RefusedAsync(Url + "?apikey={key}", Today() with { Key = "s3cret" }, json =>
        {
            Named(json);
            json["request"]!["secret"] = JsonNode.Parse("""{"placeholder":"key","in":"query"}""");
        });
        Assert.Equal(FeedCodes.RedirectRefused, refusal.Code);
        Assert.DoesNotContain("s3cret", refusal.ToString(), StringComparison.Ordinal);
        Assert.Single(net.Log);
    }

    [Fact]
    public async Task Each_host_keeps_its_own_account_of_failures()
    {
        net.Site("data.alder-lane.example", _ => new Said(503));
        Site(_ => Said.Moved("https://data.alder-lane.example/daily"));
        Assert.Equal(FeedCodes.ServerError, (await fetcher.RefusedAsync(Url, Today(), Named)).Code);
        var states = fetcher.Client.HostStates();
        Assert.Equal(("https://data.alder-lane.example", 3), (states.Single().Authority, states.Single().FailuresInARow));
    }

    [Fact]
    public async Task A_station_of_the_operators_is_not_reached_through_somebody_elses_server()
    {
        using var station = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, "HTTP/1.1 200 OK\nContent-Length: 0\n\n", closing));
        fetcher.Allow(station.Url);
        Site(_ => Said.Moved(station.Url));
        await RefusedAsync(Url, "another host");
        Assert.Equal(0, station.Connections);
    }

    [Fact]
    public async Task A_station_may_not_send_us_to_another_port_of_its_machine()
    {
        using var inner = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, "HTTP/1.1 200 OK\nContent-Length: 0\n\n", closing));
        using var station = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, $"HTTP/1.1 302 Found\nLocation: {inner.Url}\nContent-Length: 0\n\n", closing));
        using var plain = new Fetcher();
        Assert.Equal(FeedCodes.RedirectRefused, (await plain.RefusedAsync(station.Url)).Code);
        Assert.Equal((1, 0), (station.Connections, inner.Connections));
    }

    /// <summary>The other host's step has been asked earlier.</summary>
    private static FeedRequest Today() => new(Fetcher.Today)
    {
        Captures = new FeedCaptures(new Dictionary<string, string> { ["cell"] = "1" }, SystemClock.Instance.GetCurrentInstant()),
    };

    /// <summary>Names a second host in the description, by a step.</summary>
    private static void Named(JsonNode json) => json["request"]!["steps"] = JsonNode.Parse("""
        [{ "name": "hello", "url": "https://data.alder-lane.example/hello", "capture": { "cell": "/ok" }, "cacheFor": "P7D" }]
        """);

    private void Site(Func<Asked, Said> answer) => net.Site("alder-lane.example", answer);

    private async Task FetchWithSecretsAsync(Action<JsonNode>? change = null) => await fetcher.FetchAsync(
        Url,
        Today() with { Key = "s3cret", IfChanged = new FeedValidators(null, "Mon, 04 May 2026 06:00:00 GMT") },
        json =>
        {
            json["request"]!["headers"]!["X-Api-Key"] = "{key}";
            json["request"]!["headers"]!["X-Note"] = "plot 7";
            json["request"]!["secret"] = JsonNode.Parse("""{"placeholder":"key","in":"header","headerName":"X-Api-Key"}""");
            change?.Invoke(json);
        });

    private async Task RefusedAsync(string url, string why)
    {
        var refusal = await fetcher.RefusedAsync(url);
        Assert.Equal((FeedCodes.RedirectRefused, true), (refusal.Code, refusal.Permanent));
        Assert.Contains(why, refusal.Sentence, StringComparison.Ordinal);
        Assert.Equal(302, refusal.Evidence!.Status);
    }
}
