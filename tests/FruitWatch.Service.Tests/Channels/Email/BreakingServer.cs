using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>
/// A relay that hangs up at a chosen point of the conversation, some number of times, and answers as it should from then on. It
/// keeps every content that arrived whole, whether or not it said so.
/// </summary>
internal sealed class BreakingServer : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource stop = new();
    private readonly Task running;
    private int left;

    public BreakingServer(Break at, int times)
    {
        (At, left) = (at, times);
        listener.Start();
        running = RunAsync();
    }

    public enum Break
    {
        BeforeGreeting,
        AtSender,
        AtRecipient,
        AtData,
        InContent,
        AfterContent,
        SilentAfterContent,
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    public ConcurrentQueue<string> Contents { get; } = new();

    private Break At { get; }

    /// <summary>Hangs up at the chosen point again, so many times.</summary>
    public void BreakNext(int times) => left = times;

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        listener.Stop();
        await running;
        stop.Dispose();
    }

    private async Task RunAsync()
    {
        while (!stop.IsCancellationRequested)
        {
            try
            {
                using var caller = await listener.AcceptTcpClientAsync(stop.Token);
                await TalkAsync(caller);
            }
            catch (Exception ended) when (ended is OperationCanceledException or IOException or SocketException)
            {
                // The caller went away, or the test is over.
            }
        }
    }

    private async Task TalkAsync(TcpClient caller)
    {
        using var reader = new StreamReader(caller.GetStream(), Encoding.Latin1);
        await using var writer = new StreamWriter(caller.GetStream(), Encoding.Latin1) { NewLine = "\r\n", AutoFlush = true };
        if (BreaksAt(Break.BeforeGreeting))
            return;
        await writer.WriteLineAsync("220 relay.invalid");
        while (await reader.ReadLineAsync(stop.Token) is { } line)
        {
            var verb = line.Split(' ', ':')[0].ToUpperInvariant();
            if ((verb == "MAIL" && BreaksAt(Break.AtSender)) || (verb == "RCPT" && BreaksAt(Break.AtRecipient)) || (verb == "DATA" && BreaksAt(Break.AtData)))
                return;
            await writer.WriteLineAsync(verb switch { "DATA" => "354 go on", "QUIT" => "221 bye", _ => "250 well" });
            if (verb == "QUIT")
                return;
            if (verb == "DATA" && !await TakeContentAsync(reader, writer))
                return;
        }
    }

    private async Task<bool> TakeContentAsync(StreamReader reader, StreamWriter writer)
    {
        if (BreaksAt(Break.InContent))
        {
            await reader.ReadLineAsync(stop.Token);
            return false;
        }

        var content = new StringBuilder();
        while (await reader.ReadLineAsync(stop.Token) is { } line && line != ".")
            content.Append(line).Append("\r\n");
        Contents.Enqueue(content.ToString());
        if (BreaksAt(Break.AfterContent))
            return false;
        if (BreaksAt(Break.SilentAfterContent))
        {
            while (await reader.ReadLineAsync(stop.Token) is not null)
            {
                // Says nothing until the caller gives up.
            }

            return false;
        }

        await writer.WriteLineAsync("250 taken");
        return true;
    }

    private bool BreaksAt(Break point) => point == At && left-- > 0;
}
