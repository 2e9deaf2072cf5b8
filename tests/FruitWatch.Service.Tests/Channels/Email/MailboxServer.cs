using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using MimeKit;
using SmtpServer;
using SmtpServer.ComponentModel;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>A real SMTP server on loopback that keeps what it takes. How it answers is set by the test.</summary>
internal sealed class MailboxServer : IAsyncDisposable
{
    private readonly SmtpServer.SmtpServer server;
    private readonly CancellationTokenSource stop = new();
    private readonly Task running;
    private int connections;

    private MailboxServer(int port, X509Certificate2? certificate)
    {
        Port = port;
        var options = new SmtpServerOptionsBuilder()
            .ServerName("mailbox.invalid")
            .Endpoint(endpoint =>
            {
                endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, port));
                if (certificate is not null)
                    endpoint.Certificate(certificate);
            })
            .Build();
        var parts = new ServiceProvider();
        parts.Add(new Filter(this));
        parts.Add(new Store(this));
        server = new SmtpServer.SmtpServer(options, parts);
        server.SessionCreated += (_, _) => Interlocked.Increment(ref connections);
        running = server.StartAsync(stop.Token);
    }

    public int Port { get; }

    /// <summary>Envelope senders of what was taken, in order.</summary>
    public ConcurrentQueue<string> Senders { get; } = new();

    /// <summary>Connections opened so far.</summary>
    public int Connections => connections;

    /// <summary>What was taken, in order.</summary>
    public ConcurrentQueue<MimeMessage> Taken { get; } = new();

    public IEnumerable<string> Recipients => Taken.Select(message => message.To.Mailboxes.Single().Address);

    /// <summary>Reply code for a recipient; null to accept.</summary>
    public Func<string, int?> AtRecipient { get; set; } = _ => null;

    /// <summary>Reply code for the sender; null to accept.</summary>
    public int? AtSender { get; set; }

    /// <summary>Reply code after the content; null to take it.</summary>
    public Func<MimeMessage, int?> AfterContent { get; set; } = _ => null;

    public static int FreePort()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }

    /// <summary>Starts on a port, or on a free one, and waits until it listens.</summary>
    public static async Task<MailboxServer> StartAsync(int? port = null, X509Certificate2? certificate = null)
    {
        var server = new MailboxServer(port ?? FreePort(), certificate);
        while (true)
        {
            if (server.running.IsFaulted && port is null)
                server = new MailboxServer(FreePort(), certificate); // somebody else was quicker to take the port
            else if (server.running.IsCompleted)
                await server.running;
            using var knock = new TcpClient();
            try
            {
                await knock.ConnectAsync(IPAddress.Loopback, server.Port);
                break;
            }
            catch (SocketException)
            {
                await Task.Delay(10);
            }
        }

        while (server.Connections == 0)
            await Task.Delay(5);
        server.connections = 0;
        return server;
    }

    public async ValueTask DisposeAsync()
    {
        server.Shutdown();
        await server.ShutdownTask;
        await stop.CancelAsync();
        try
        {
            await running;
        }
        catch (OperationCanceledException)
        {
            // That is how it stops.
        }

        stop.Dispose();
    }

    private static SmtpResponseException Refusal(int code) => new(new SmtpResponse((SmtpReplyCode)code, "as the test wants it"));

    private sealed class Filter(MailboxServer mailbox) : MailboxFilter
    {
        public override Task<bool> CanAcceptFromAsync(ISessionContext context, IMailbox from, int size, CancellationToken cancellationToken) =>
            mailbox.AtSender is { } code ? throw Refusal(code) : Task.FromResult(true);

        public override Task<bool> CanDeliverToAsync(ISessionContext context, IMailbox to, IMailbox from, CancellationToken cancellationToken) =>
            mailbox.AtRecipient($"{to.User}@{to.Host}") is { } code ? throw Refusal(code) : Task.FromResult(true);
    }

    private sealed class Store(MailboxServer mailbox) : MessageStore
    {
        public override async Task<SmtpResponse> SaveAsync(
            ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
        {
            using var content = new MemoryStream(buffer.ToArray());
            var message = await MimeMessage.LoadAsync(content, cancellationToken);
            if (mailbox.AfterContent(message) is { } code)
                return new SmtpResponse((SmtpReplyCode)code, "as the test wants it");
            mailbox.Senders.Enqueue($"{transaction.From.User}@{transaction.From.Host}");
            mailbox.Taken.Enqueue(message);
            return SmtpResponse.Ok;
        }
    }
}
