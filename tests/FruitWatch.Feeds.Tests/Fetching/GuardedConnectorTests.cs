using System.Net;
using System.Net.Sockets;

namespace FruitWatch.Feeds.Tests.Fetching;

/// <summary>A listener on every address of this machine, which must hear nothing.</summary>
public sealed class GuardedConnectorTests : IDisposable
{
    private readonly TcpListener listener = TcpListener.Create(0);

    public GuardedConnectorTests() => listener.Start();

    private int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    public static TheoryData<string, string> Spellings => new()
    {
        // The machine itself, in all the ways an address may be written.
        { "127.0.0.1", "" }, { "127.1", "" }, { "127.0.1", "" }, { "2130706433", "" }, { "0x7f000001", "" }, { "0x7f.0.0.1", "" },
        { "0x7F.1", "" }, { "0177.0.0.1", "" }, { "017700000001", "" }, { "127.000.000.001", "" }, { "127.255.255.254", "" },
        { "0", "" }, { "0.0.0.0", "" }, { "[::1]", "" }, { "[::]", "" }, { "[0:0:0:0:0:0:0:1]", "" }, { "①②⑦.⓪.⓪.①", "" },
        { "127。0。0。1", "" }, { "localhost", "" }, { "LocalHost", "" }, { "localhost.", "127.0.0.1" }, { "127.0.0.1.", "127.0.0.1" },
        // IPv4 inside IPv6.
        { "[::ffff:127.0.0.1]", "" }, { "[::ffff:7f00:1]", "" }, { "[0:0:0:0:0:FFFF:7F00:0001]", "" }, { "[::127.0.0.1]", "" },
        { "[64:ff9b::7f00:1]", "" }, { "[64:ff9b::127.0.0.1]", "" }, { "[64:ff9b:1::7f00:1]", "" }, { "[2002:7f00:1::]", "" },
        { "[2001:0:7f00:1::]", "" }, { "[::ffff:0:127.0.0.1]", "" },
        // Private, shared, link-local, and the metadata services of clouds.
        { "10.0.0.1", "" }, { "172.16.0.1", "" }, { "172.31.255.254", "" }, { "192.168.1.1", "" }, { "100.64.0.1", "" },
        { "100.100.100.200", "" }, { "169.254.169.254", "" }, { "0xa9fea9fe", "" }, { "[::ffff:169.254.169.254]", "" },
        { "[fd00:ec2::254]", "" }, { "192.0.0.192", "" }, { "168.63.129.16", "" }, { "[fc00::1]", "" }, { "[fe80::1]", "" },
        { "[fe80::1%251]", "" }, { "[fe80::1%25lo]", "" }, { "[fec0::1]", "" },
        // Nobody's.
        { "192.0.2.1", "" }, { "198.18.0.1", "" }, { "198.51.100.1", "" }, { "203.0.113.1", "" }, { "192.88.99.1", "" },
        { "224.0.0.1", "" }, { "239.255.255.250", "" }, { "240.0.0.1", "" }, { "255.255.255.255", "" }, { "[ff02::1]", "" },
        { "[2001:db8::1]", "" }, { "[3fff::1]", "" }, { "[100::1]", "" }, { "[5f00::1]", "" },
        // Names that lead there, alone or beside a public address.
        { "inner.example", "127.0.0.1" }, { "inner.example", "10.1.2.3" }, { "inner.example", "::1" }, { "inner.example", "::ffff:10.0.0.1" },
        { "mixed.example", "8.8.8.8,127.0.0.1" }, { "mixed.example", "127.0.0.1,8.8.8.8" }, { "mixed.example", "8.8.8.8,fd00::1" },
        { "mixed.example", "2001:4860:4860::8888,::1" }, { "inner.example.", "192.168.0.1" }, { "fe80-1.example", "fe80::1%1" },
    };

    public void Dispose() => listener.Dispose();

    [Theory]
    [MemberData(nameof(Spellings))]
    public async Task Nobody_on_this_machine_or_its_network_is_connected_to(string host, string addresses)
    {
        var connector = new GuardedConnector(null, addresses.Length == 0 ? null : (_, _) => Task.FromResult(Parsed(addresses)), new HashSet<int> { Port }, null);

        var fault = await Record.ExceptionAsync(() => AskAsync(connector, $"http://{host}:{Port}/"));

        Assert.NotNull(Causes(fault).OfType<BlockedAddressException>().SingleOrDefault());
        Assert.False(listener.Pending());
    }

    [Fact]
    public void There_are_forty_spellings_and_more() => Assert.True(Spellings.Count > 40, $"only {Spellings.Count}");

    [Theory]
    [InlineData("127.0.0.1")]
    [InlineData("localhost")]
    [InlineData("[::1]")]
    public async Task The_listener_hears_those_the_operator_allows(string host)
    {
        var connector = new GuardedConnector(new HashSet<string> { $"{host}:{Port}" });
        using var patience = new CancellationTokenSource();
        var asking = AskAsync(connector, $"http://{host}:{Port}/", patience.Token);
        Assert.True(SpinWait.SpinUntil(listener.Pending, TimeSpan.FromSeconds(10)));
        await patience.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => asking);
    }

    [Theory]
    [InlineData("127.0.0.1:1")]
    [InlineData("127.0.0.1")]
    [InlineData("localhost:{0}")]
    [InlineData("127.0.0.2:{0}")]
    public async Task What_is_allowed_is_allowed_by_host_and_port_exactly(string allowed)
    {
        var endpoint = string.Format(System.Globalization.CultureInfo.InvariantCulture, allowed, Port);
        var connector = new GuardedConnector(new HashSet<string> { endpoint }, null, new HashSet<int> { Port }, null);
        Assert.NotEmpty(Causes(await Record.ExceptionAsync(() => AskAsync(connector, $"http://127.0.0.1:{Port}/"))).OfType<BlockedAddressException>());
        Assert.False(listener.Pending());
    }

    [Theory]
    [InlineData("http://8.8.8.8:22/")]
    [InlineData("http://8.8.8.8:8080/")]
    [InlineData("http://[2001:4860:4860::8888]:6379/")]
    public async Task Other_ports_than_those_of_the_web_are_not_connected_to(string url)
    {
        var dialled = 0;
        var connector = new GuardedConnector(null, null, null, (_, _, _) => { dialled++; throw new SocketException(); });
        Assert.NotEmpty(Causes(await Record.ExceptionAsync(() => AskAsync(connector, url))).OfType<BlockedAddressException>());
        Assert.Equal(0, dialled);
    }

    [Fact]
    public async Task A_name_is_looked_up_once_and_the_connection_goes_to_what_was_looked_at()
    {
        var lookups = 0;
        var dialled = new List<IPAddress>();
        var connector = new GuardedConnector(
            null,
            (_, _) => Task.FromResult(Parsed(lookups++ == 0 ? "8.8.8.8,2001:4860:4860::8888" : "127.0.0.1")),
            new HashSet<int> { Port },
            (address, _, _) =>
            {
                dialled.Add(address);
                throw new SocketException((int)SocketError.ConnectionRefused);
            });

        Assert.Empty(Causes(await Record.ExceptionAsync(() => AskAsync(connector, $"http://rebind.example:{Port}/"))).OfType<BlockedAddressException>());
        Assert.NotEmpty(Causes(await Record.ExceptionAsync(() => AskAsync(connector, $"http://rebind.example:{Port}/"))).OfType<BlockedAddressException>());

        Assert.Equal(2, lookups);
        Assert.Equal(Parsed("8.8.8.8,2001:4860:4860::8888"), dialled);
    }

    [Fact]
    public async Task The_message_names_the_host_as_it_was_asked_for_and_no_address_behind_it()
    {
        var connector = new GuardedConnector(null, (_, _) => Task.FromResult(Parsed("10.20.30.40")));
        var fault = await Record.ExceptionAsync(() => AskAsync(connector, "http://inner.example/"));
        Assert.Contains("inner.example", Causes(fault).OfType<BlockedAddressException>().Single().Message, StringComparison.Ordinal);
        Assert.DoesNotContain("10.20.30.40", fault!.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_host_that_refuses_is_named_without_its_address()
    {
        listener.Stop();
        var connector = new GuardedConnector(new HashSet<string> { $"station.example:{Port}" }, (_, _) => Task.FromResult(Parsed("127.0.0.1")));
        var fault = await Record.ExceptionAsync(() => AskAsync(connector, $"http://station.example:{Port}/"));
        Assert.Equal(HttpRequestError.ConnectionError, Assert.IsType<HttpRequestException>(fault).HttpRequestError);
        Assert.DoesNotContain("127.0.0.1", fault.ToString(), StringComparison.Ordinal);
    }

    private static async Task AskAsync(GuardedConnector connector, string url, CancellationToken cancellation = default)
    {
        using var handler = new SocketsHttpHandler { ConnectCallback = connector.ConnectAsync, UseProxy = false, ConnectTimeout = TimeSpan.FromSeconds(5) };
        using var client = new HttpClient(handler) { Timeout = TimeSpan.FromSeconds(10) };
        using var response = await client.GetAsync(new Uri(url), cancellation);
    }

    private static IPAddress[] Parsed(string addresses) => [.. addresses.Split(',').Select(IPAddress.Parse)];

    private static IEnumerable<Exception> Causes(Exception? fault)
    {
        for (; fault is not null; fault = fault.InnerException)
            yield return fault;
    }
}
