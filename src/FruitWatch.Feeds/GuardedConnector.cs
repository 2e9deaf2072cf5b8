using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace FruitWatch.Feeds;

/// <summary>
/// Opens connections to the open internet only, for <see cref="SocketsHttpHandler.ConnectCallback"/>. The name is looked up
/// once, every answer is looked at, and the connection goes to those very answers: looking at an address beforehand is of
/// no use, since the name may mean another one a moment later.
/// </summary>
/// <remarks>Thread-safe. The handler must not use a proxy, and must ask by HTTP/2 at most: HTTP/3 does not come through here.</remarks>
public sealed class GuardedConnector
{
    // With several addresses a silent one may not use up the whole time for connecting.
    private static readonly TimeSpan PerAddress = TimeSpan.FromSeconds(3);

    private readonly IReadOnlySet<string> allowed;
    private readonly Func<string, CancellationToken, Task<IPAddress[]>> resolve;
    private readonly IReadOnlySet<int> ports;
    private readonly Func<IPAddress, int, CancellationToken, Task<Stream>> dial;

    /// <param name="allowed">
    /// Endpoints, as exact <c>host:port</c>, that may be anywhere, also on the own network and at any port. Only an operator
    /// may choose them, never somebody who uses the service.
    /// </param>
    /// <param name="resolve">Looks a name up; the system's resolver if left out.</param>
    public GuardedConnector(IReadOnlySet<string>? allowed = null, Func<string, CancellationToken, Task<IPAddress[]>>? resolve = null)
        : this(allowed, resolve, null, null)
    {
    }

    internal GuardedConnector(
        IReadOnlySet<string>? allowed,
        Func<string, CancellationToken, Task<IPAddress[]>>? resolve,
        IReadOnlySet<int>? ports,
        Func<IPAddress, int, CancellationToken, Task<Stream>>? dial)
    {
        this.allowed = allowed ?? new HashSet<string>();
        this.resolve = resolve ?? Dns.GetHostAddressesAsync;
        this.ports = ports ?? new HashSet<int> { 80, 443 };
        this.dial = dial ?? DialAsync;
    }

    /// <summary>Whether a text names an endpoint exactly: a host, or an IPv6 address in brackets, and a port.</summary>
    public static bool IsEndpoint(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var colon = text.LastIndexOf(':');
        return colon > text.LastIndexOf(']')
            && int.TryParse(text.AsSpan(colon + 1), NumberStyles.None, CultureInfo.InvariantCulture, out var port)
            && port is > 0 and <= ushort.MaxValue
            && Uri.TryCreate("http://" + text, UriKind.Absolute, out var uri)
            && uri.Port == port
            && uri.UserInfo.Length == 0
            && uri.PathAndQuery == "/";
    }

    /// <summary>Opens the connection.</summary>
    /// <exception cref="BlockedAddressException">The host is not on the open internet, or the port is not 80 or 443.</exception>
    /// <exception cref="SocketException">There is no such host, or it cannot be reached.</exception>
    public async ValueTask<Stream> ConnectAsync(SocketsHttpConnectionContext context, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(context);
        var (host, port) = (context.DnsEndPoint.Host.Trim('[', ']'), context.DnsEndPoint.Port);
        var free = IsAllowed(allowed, host, port);
        if (!free && !ports.Contains(port))
            throw new BlockedAddressException(host, port);
        var addresses = IPAddress.TryParse(host, out var literal) ? [literal] : await resolve(host, cancellation);
        // One bad answer spoils all: a name that means both a public and an inner address is no honest name.
        if (!free && addresses.Any(address => !PublicAddresses.IsPublic(address)))
            throw new BlockedAddressException(host, port);
        return await FirstAsync(addresses, port, cancellation);
    }

    internal static bool IsAllowed(IReadOnlySet<string> allowed, string host, int port)
    {
        var endpoint = FormattableString.Invariant($"{(host.Contains(':', StringComparison.Ordinal) ? $"[{host.Trim('[', ']')}]" : host)}:{port}");
        return allowed.Contains(endpoint) || allowed.Contains(endpoint, StringComparer.OrdinalIgnoreCase);
    }

    private async Task<Stream> FirstAsync(IPAddress[] addresses, int port, CancellationToken cancellation)
    {
        var last = new SocketException((int)SocketError.HostNotFound);
        for (var i = 0; i < addresses.Length; i++)
        {
            using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
            if (i < addresses.Length - 1)
                limit.CancelAfter(PerAddress);
            try
            {
                return await dial(addresses[i], port, limit.Token);
            }
            catch (SocketException fault)
            {
                last = new SocketException(fault.ErrorCode); // Without the address, which the system's message names.
            }
            catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
            {
                last = new SocketException((int)SocketError.TimedOut);
            }
        }
        throw last;
    }

    private static async Task<Stream> DialAsync(IPAddress address, int port, CancellationToken cancellation)
    {
        var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(address, port, cancellation);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }
}
