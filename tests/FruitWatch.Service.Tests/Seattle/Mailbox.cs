using System.Buffers;
using System.Net;
using MimeKit;
using SmtpServer;
using SmtpServer.ComponentModel;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace FruitWatch.Service.Tests.Seattle;

/// <summary>A mail relay on loopback that speaks real SMTP, keeps what it accepts, and can be out of order.</summary>
internal sealed class Mailbox : MessageStore, IAsyncDisposable
{
    private readonly List<MimeMessage> received = [];
    private readonly CancellationTokenSource stop = new();
    private readonly Task running;

    public Mailbox()
    {
        Port = FreePort();
        var services = new ServiceProvider();
        services.Add(this);
        var options = new SmtpServerOptionsBuilder().ServerName("localhost")
            .Endpoint(e => e.Endpoint(new IPEndPoint(IPAddress.Loopback, Port)).AllowUnsecureAuthentication(true)).Build();
        running = new SmtpServer.SmtpServer(options, services).StartAsync(stop.Token);
    }

    public int Port { get; }

    /// <summary>Whether the relay refuses for now.</summary>
    public bool Down { get; set; }

    public IReadOnlyList<MimeMessage> Received
    {
        get
        {
            lock (received)
                return [.. received];
        }
    }

    public override async Task<SmtpResponse> SaveAsync(
        ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
    {
        if (Down)
            return new SmtpResponse(SmtpReplyCode.ServiceUnavailable, "Try again later.");
        using var stream = new MemoryStream(buffer.ToArray());
        var message = await MimeMessage.LoadAsync(stream, cancellationToken);
        lock (received)
            received.Add(message);
        return SmtpResponse.Ok;
    }

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        await running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        stop.Dispose();
    }

    private static int FreePort()
    {
        using var listener = new System.Net.Sockets.TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
