using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using MailKit.Net.Smtp;
using MailKit.Security;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Opens connections to the relay.</summary>
internal static class SmtpConnection
{
    /// <summary>A connection that mails can leave over: encrypted as asked for, and signed in.</summary>
    public static async Task<SmtpClient> OpenAsync(MailOptions options, CancellationToken limit)
    {
        var client = await GreetAsync(options, limit);
        try
        {
            if (!string.IsNullOrEmpty(options.UserName))
                await client.AuthenticateAsync(options.UserName, options.Password!, limit);
            return client;
        }
        catch
        {
            client.Dispose();
            throw;
        }
    }

    /// <summary>The same, not yet signed in.</summary>
    public static async Task<SmtpClient> GreetAsync(MailOptions options, CancellationToken limit)
    {
        var security = SecurityOf(options.Security);
        var client = new SmtpClient { Timeout = (int)options.Timeout.TotalMilliseconds };
        try
        {
            var port = PortFor(options, security);
            var host = options.Host!.Trim();
            var begun = Stopwatch.GetTimestamp();
            var socket = await Sockets.ConnectAsync(host, port, options.Timeout, limit);
            var near = Stopwatch.GetElapsedTime(begun) < options.Near;
            // The name stays that of the settings, which is the one that the certificate has to be for.
            await client.ConnectAsync(socket, host, port, security, limit);
            // Several commands at once (RFC 2920) spare a far relay's round trip. A near one that answers each by itself holds the second
            // answer back until the first is acknowledged, which takes 40 ms: more than was spared.
            if (near)
                client.Capabilities &= ~SmtpCapabilities.Pipelining;
            return client;
        }
        catch
        {
            client.Dispose();
            throw;
        }
    }

    public static int PortFor(MailOptions options) => PortFor(options, SecurityOf(options.Security));

    public static SecureSocketOptions SecurityOf(string setting) => setting.Trim().ToLowerInvariant() switch
    {
        "none" => SecureSocketOptions.None,
        "tls" => SecureSocketOptions.SslOnConnect,
        _ => SecureSocketOptions.StartTls,
    };

    private static int PortFor(MailOptions options, SecureSocketOptions security) => (options.Port, security) switch
    {
        ( > 0, _) => options.Port,
        (_, SecureSocketOptions.None) => 25,
        (_, SecureSocketOptions.SslOnConnect) => 465, // RFC 8314 section 3.3
        _ => 587,
    };
}

/// <summary>Sockets that send each line at once.</summary>
internal static class Sockets
{
    /// <summary>
    /// Connects to a host by name or address. All its addresses are tried, each for as long as one answer may take. Small packets are
    /// not held back (RFC 896): a conversation of short lines would wait for a delayed acknowledgement with each mail, some 40 ms.
    /// </summary>
    /// <exception cref="SocketException">None of them answers; the last one's reason.</exception>
    public static Task<Socket> ConnectAsync(string host, int port, TimeSpan timeout, CancellationToken limit) =>
        ConnectAsync(host, port, timeout, Dns.GetHostAddressesAsync, limit);

    /// <summary>The same with another way of finding addresses.</summary>
    public static async Task<Socket> ConnectAsync(
        string host, int port, TimeSpan timeout, Func<string, CancellationToken, Task<IPAddress[]>> find, CancellationToken limit)
    {
        IPAddress[] addresses = IPAddress.TryParse(host, out var one) ? [one] : await find(host, limit);
        Exception? last = null;
        foreach (var address in addresses)
        {
            var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(limit);
            patience.CancelAfter(timeout);
            try
            {
                await socket.ConnectAsync(address, port, patience.Token);
                return socket;
            }
            catch (OperationCanceledException) when (!limit.IsCancellationRequested)
            {
                socket.Dispose();
                last = new SocketException((int)SocketError.TimedOut);
            }
            catch (SocketException refused)
            {
                socket.Dispose();
                last = refused;
            }
            catch
            {
                socket.Dispose();
                throw;
            }
        }

        throw last ?? new SocketException((int)SocketError.HostNotFound);
    }
}
