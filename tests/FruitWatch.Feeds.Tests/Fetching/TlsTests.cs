namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class TlsTests : IDisposable
{
    private const string Url = "https://alder-lane.example/daily";

    private readonly PretendNet net = new();
    private readonly Fetcher fetcher;

    public TlsTests() => fetcher = new Fetcher(net: net);

    public void Dispose()
    {
        fetcher.Dispose();
        net.Dispose();
    }

    [Fact]
    public async Task A_valid_certificate_is_taken()
    {
        net.Site("alder-lane.example", _ => Said.Ok);
        await fetcher.FetchAsync(Url);
    }

    [Fact]
    public async Task An_expired_certificate_is_refused_and_its_dates_are_named()
    {
        net.Site("alder-lane.example", _ => Said.Ok, validUntil: new DateTimeOffset(2024, 3, 2, 0, 0, 0, TimeSpan.Zero));
        await RefusedAsync("from 2023-03-02 to 2024-03-02");
    }

    [Fact]
    public async Task A_certificate_for_another_name_is_refused_and_both_names_are_named()
    {
        net.Site("alder-lane.example", _ => Said.Ok, madeOutTo: "oak-lane.example");
        await RefusedAsync("made out to \"oak-lane.example\" and not to alder-lane.example");
    }

    [Fact]
    public async Task A_certificate_nobody_vouches_for_is_refused()
    {
        net.Site("alder-lane.example", _ => Said.Ok, ownRoot: true);
        await RefusedAsync("nobody this system trusts");
    }

    [Fact]
    public async Task Without_the_tests_own_root_the_valid_one_is_refused_too()
    {
        net.Site("alder-lane.example", _ => Said.Ok);
        using var stranger = new PretendNet();
        stranger.Site("alder-lane.example", _ => Said.Ok);
        using var other = new Fetcher(net: net, roots: stranger.Roots);
        Assert.Equal(FeedCodes.Tls, (await other.RefusedAsync(Url)).Code);
        Assert.Empty(net.Log);
    }

    [Fact]
    public async Task Cookies_are_not_kept()
    {
        net.Site("alder-lane.example", _ => Said.Ok with { Headers = ["Set-Cookie: a=b; Path=/"] });
        await fetcher.FetchAsync(Url);
        await fetcher.FetchAsync(Url);
        Assert.Equal(2, net.Log.Count);
        Assert.All(net.Log, asked => Assert.Null(asked.Header("Cookie")));
    }

    [Fact]
    public async Task A_connection_is_kept_for_its_own_name_only()
    {
        net.Site("alder-lane.example", _ => Said.Ok);
        net.Site("oak-lane.example", _ => Said.Ok);
        await fetcher.FetchAsync(Url);
        var dialled = net.Dialled.Count;

        // The first name turns inward: the connection that stands goes to the address that was looked at; a new name with the same
        // address has to pass the guard for itself.
        net.Names["alder-lane.example"] = net.Names["oak-lane.example"] = () => [System.Net.IPAddress.Parse("192.168.1.1")];
        await fetcher.FetchAsync(Url);
        Assert.Equal(FeedCodes.BlockedAddress, (await fetcher.RefusedAsync("https://oak-lane.example/daily")).Code);
        Assert.Equal(dialled, net.Dialled.Count);
    }

    [Theory]
    [InlineData("https://inner.example/daily")]
    [InlineData("https://8.8.8.8:22/daily")]
    public async Task Who_is_not_on_the_open_web_is_refused_in_plain_words(string url)
    {
        net.Names["inner.example"] = () => [System.Net.IPAddress.Parse("10.20.30.40")];
        // A description kept from a time when the operator allowed it, and a client that does not allow it any more.
        var refusal = await Assert.ThrowsAsync<FeedException>(() => fetcher.Client.FetchAsync(Fetcher.Described(url), Fetcher.Site, new FeedRequest(Fetcher.Today)));
        Assert.Equal((FeedCodes.BlockedAddress, true), (refusal.Code, refusal.Permanent));
        Assert.Contains(new Uri(url).Host, refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("10.20.30.40", refusal.ToString(), StringComparison.Ordinal);
        Assert.Null(refusal.InnerException);
        Assert.Empty(net.Dialled);
    }

    [Fact]
    public async Task The_client_as_it_comes_does_not_ask_this_machine()
    {
        using var server = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, "HTTP/1.1 200 OK\nContent-Length: 0\n\n", closing));
        var https = server.Url.Replace("http:", "https:", StringComparison.Ordinal);
        using var plain = new Fetcher();
        var refusal = await Assert.ThrowsAsync<FeedException>(() => plain.Client.FetchAsync(Fetcher.Described(https), Fetcher.Site, new FeedRequest(Fetcher.Today)));
        Assert.Equal(FeedCodes.BlockedAddress, refusal.Code);
        Assert.Equal(0, server.Connections);
    }

    [Fact]
    public async Task A_proxy_set_for_the_machine_is_not_used()
    {
        using var proxy = new RawServer((_, stream, closing) => RawServer.SayAsync(stream, "HTTP/1.1 200 OK\nContent-Length: 0\n\n", closing));
        var address = new Uri(proxy.Url).GetLeftPart(UriPartial.Authority);
        string[] names = ["http_proxy", "https_proxy", "HTTPS_PROXY", "all_proxy", "ALL_PROXY"];
        var usual = names.ToDictionary(name => name, Environment.GetEnvironmentVariable);
        try
        {
            foreach (var name in names)
                Environment.SetEnvironmentVariable(name, address);
            net.Site("alder-lane.example", _ => Said.Ok);
            using var fresh = new Fetcher(net: net);
            await fresh.FetchAsync(Url);
        }
        finally
        {
            foreach (var (name, value) in usual)
                Environment.SetEnvironmentVariable(name, value);
        }
        Assert.Equal(0, proxy.Connections);
    }

    private async Task RefusedAsync(string why)
    {
        var refusal = await fetcher.RefusedAsync(Url);
        Assert.Equal((FeedCodes.Tls, false), (refusal.Code, refusal.Permanent));
        Assert.Contains(why, refusal.Sentence, StringComparison.Ordinal);
        Assert.Empty(net.Log);
    }
}
