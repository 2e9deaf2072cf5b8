using System.Collections.Concurrent;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace FruitWatch.Feeds.Tests.Fetching;

/// <summary>What a pretended server was asked.</summary>
internal sealed record Asked(string Host, string Target, IReadOnlyDictionary<string, string> Headers)
{
    public string? Header(string name) => Headers.GetValueOrDefault(name);
}

/// <summary>What it says.</summary>
internal sealed record Said(int Status, string Body = "", string Type = "application/json", params string[] Headers)
{
    public static Said Ok { get; } = new(200, """{"ok":1}""");

    public static Said Moved(string location, int status = 302) => new(status, "", "text/plain", "Location: " + location);
}

/// <summary>
/// A small internet on loopback: names with public addresses, certificates of its own, and servers that say what the test tells
/// them to. The client's guard, its name look-ups and its TLS are the real ones; only the last step of connecting leads here.
/// </summary>
internal sealed class PretendNet : IDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource closing = new();
    private readonly ConcurrentDictionary<string, Func<Asked, Said>> sites = new(StringComparer.OrdinalIgnoreCase);
    private readonly ConcurrentDictionary<string, X509Certificate2> certificates = new(StringComparer.OrdinalIgnoreCase);
    private readonly ECDsa rootKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly X509Certificate2 root;

    public PretendNet()
    {
        var request = new CertificateRequest("CN=Pretended root", rootKey, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        root = request.CreateSelfSigned(Now.AddYears(-10), Now.AddYears(10));
        listener.Start();
        _ = AcceptAsync();
    }

    public ConcurrentQueue<Asked> Log { get; } = new();

    /// <summary>What names mean; those not listed mean a public address.</summary>
    public ConcurrentDictionary<string, Func<IPAddress[]>> Names { get; } = new(StringComparer.OrdinalIgnoreCase);

    public ConcurrentQueue<IPAddress> Dialled { get; } = new();

    public X509Certificate2Collection Roots => [root];

    private static DateTimeOffset Now => TimeProvider.System.GetUtcNow();

    public IReadOnlyList<string> Targets => [.. Log.Select(asked => asked.Host + asked.Target)];

    public void Site(string host, Func<Asked, Said> answer, DateTimeOffset? validUntil = null, string? madeOutTo = null, bool ownRoot = false)
    {
        sites[host] = answer;
        certificates[host] = Certificate(madeOutTo ?? host, validUntil ?? Now.AddDays(30), ownRoot);
    }

    public Task<IPAddress[]> ResolveAsync(string host, CancellationToken cancellation) =>
        Task.FromResult(Names.TryGetValue(host, out var addresses) ? addresses() : [IPAddress.Parse("8.8.4.4")]);

    public async Task<Stream> DialAsync(IPAddress address, int port, CancellationToken cancellation)
    {
        Dialled.Enqueue(address);
        var client = new TcpClient();
        await client.ConnectAsync((IPEndPoint)listener.LocalEndpoint, cancellation);
        return client.GetStream();
    }

    public void Dispose()
    {
        closing.Cancel();
        listener.Stop();
        closing.Dispose();
        rootKey.Dispose();
        root.Dispose();
        foreach (var certificate in certificates.Values)
            certificate.Dispose();
    }

    private X509Certificate2 Certificate(string host, DateTimeOffset until, bool ownRoot)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=" + host, key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(host);
        request.CertificateExtensions.Add(names.Build());
        var from = until.AddYears(-1);
        if (ownRoot)
            return request.CreateSelfSigned(from, until);
        using var signed = request.Create(root, from, until, RandomNumberGenerator.GetBytes(8));
        return signed.CopyWithPrivateKey(key);
    }

    private async Task AcceptAsync()
    {
        while (!closing.IsCancellationRequested)
        {
            try
            {
                _ = ServeAsync(await listener.AcceptTcpClientAsync(closing.Token));
            }
            catch (Exception fault) when (fault is SocketException or OperationCanceledException or ObjectDisposedException)
            {
                return;
            }
        }
    }

    private async Task ServeAsync(TcpClient client)
    {
        try
        {
            using (client)
            {
                await using var stream = new SslStream(client.GetStream());
                await stream.AuthenticateAsServerAsync(
                    (_, hello, _, _) => new(new SslServerAuthenticationOptions { ServerCertificate = certificates[hello.ServerName] }), null, closing.Token);
                var text = new StringBuilder();
                var buffer = new byte[4096];
                int read;
                while ((read = await stream.ReadAsync(buffer, closing.Token)) > 0)
                {
                    text.Append(Encoding.ASCII.GetString(buffer, 0, read));
                    if (!text.ToString().EndsWith("\r\n\r\n", StringComparison.Ordinal))
                        continue;
                    await stream.WriteAsync(Answer(text.ToString()), closing.Token);
                    text.Clear();
                }
            }
        }
        catch (Exception fault) when (fault is IOException or AuthenticationException or OperationCanceledException or ObjectDisposedException or KeyNotFoundException)
        {
            // The client went away.
        }
    }

    private byte[] Answer(string request)
    {
        var lines = request.Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        var headers = lines[1..].Select(line => line.Split(": ", 2)).ToDictionary(parts => parts[0], parts => parts[1], StringComparer.OrdinalIgnoreCase);
        var asked = new Asked(headers["Host"], lines[0].Split(' ')[1], headers);
        Log.Enqueue(asked);
        var said = sites[asked.Host](asked);
        var body = Encoding.UTF8.GetBytes(said.Body);
        var head = $"HTTP/1.1 {said.Status} Said\r\nContent-Type: {said.Type}\r\n{string.Concat(said.Headers.Select(header => header + "\r\n"))}";
        head += said.Status is 304 or 204 ? "\r\n" : $"Content-Length: {body.Length}\r\n\r\n";
        return [.. Encoding.ASCII.GetBytes(head), .. body];
    }
}
