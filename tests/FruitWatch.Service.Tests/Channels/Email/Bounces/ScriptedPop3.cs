using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>A mailbox over POP3 (RFC 1939) on a raw socket. What was marked goes at QUIT; a connection that breaks keeps everything.</summary>
internal sealed class ScriptedPop3 : IAsyncDisposable
{
    private readonly TcpListener listener;
    private readonly CancellationTokenSource stop = new();
    private readonly bool top;
    private readonly Task running;

    public ScriptedPop3(bool top = true, int port = 0)
    {
        this.top = top;
        listener = new TcpListener(IPAddress.Loopback, port);
        listener.Start();
        running = RunAsync();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    public List<byte[]> Messages { get; } = [];

    /// <summary>A name for each that stays the same over connections.</summary>
    private readonly Dictionary<byte[], int> names = new(ReferenceEqualityComparer.Instance);

    public ConcurrentQueue<string> Lines { get; } = new();

    /// <summary>Hangs up at QUIT, before anything was deleted.</summary>
    public bool BreakAtQuit { get; set; }

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
                await TalkAsync(caller.GetStream());
            }
            catch (Exception ended) when (ended is OperationCanceledException or IOException or SocketException)
            {
                // The caller went away, or the test is over.
            }
        }
    }

    private async Task TalkAsync(NetworkStream stream)
    {
        using var reader = new StreamReader(stream, Encoding.Latin1);
        var gone = new HashSet<int>();
        await SayAsync(stream, "+OK ready");
        while (await reader.ReadLineAsync(stop.Token) is { } line)
        {
            var words = line.Split(' ');
            Lines.Enqueue(words[0] == "PASS" ? "PASS" : line);
            var number = words.Length > 1 && int.TryParse(words[1], CultureInfo.InvariantCulture, out var one) ? one - 1 : -1;
            switch (words[0].ToUpperInvariant())
            {
                case "CAPA":
                    await SayAsync(stream, $"+OK\r\nUSER\r\n{(top ? "TOP\r\n" : "")}UIDL\r\n.");
                    break;
                case "STAT":
                    await SayAsync(stream, $"+OK {Messages.Count} {Messages.Sum(message => message.Length)}");
                    break;
                case "LIST" when number < 0:
                    await SayAsync(stream, "+OK\r\n" + string.Concat(Messages.Select((message, i) => $"{i + 1} {message.Length}\r\n")) + ".");
                    break;
                case "LIST":
                    await SayAsync(stream, $"+OK {number + 1} {Messages[number].Length}");
                    break;
                case "UIDL":
                    await SayAsync(stream, "+OK\r\n" + string.Concat(Messages.Select((message, i) => $"{i + 1} u{NameOf(message)}\r\n")) + ".");
                    break;
                case "TOP":
                    var text = Encoding.Latin1.GetString(Messages[number]);
                    await SayAsync(stream, "+OK\r\n" + text[..(text.IndexOf("\r\n\r\n", StringComparison.Ordinal) + 4)] + ".");
                    break;
                case "RETR":
                    await SayAsync(stream, "+OK\r\n" + Encoding.Latin1.GetString(Messages[number]).Replace("\r\n.", "\r\n..", StringComparison.Ordinal) + "\r\n.");
                    break;
                case "DELE":
                    gone.Add(number);
                    await SayAsync(stream, "+OK");
                    break;
                case "QUIT":
                    if (BreakAtQuit)
                        return;
                    foreach (var i in gone.OrderDescending())
                        Messages.RemoveAt(i);
                    await SayAsync(stream, "+OK bye");
                    return;
                default:
                    await SayAsync(stream, "+OK");
                    break;
            }
        }
    }

    private int NameOf(byte[] message)
    {
        if (!names.TryGetValue(message, out var name))
            names[message] = name = names.Count;
        return name;
    }

    private async Task SayAsync(NetworkStream stream, string text) => await stream.WriteAsync(Encoding.Latin1.GetBytes(text + "\r\n"), stop.Token);
}
