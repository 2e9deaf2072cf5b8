using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>Points of a conversation (RFC 5321) at which a relay of the tests can do something.</summary>
internal enum At
{
    Greeting,
    Hello,
    From,
    To,
    Data,
    Dot,
    Taken,
    Quit,
}

/// <summary>What it does there, instead of what it should.</summary>
/// <param name="Line">Answers this; null for what is right.</param>
/// <param name="HangUp">Hangs up, after the answer where there is one.</param>
/// <param name="Silent">Answers nothing, and keeps the connection.</param>
/// <param name="Drip">Answers a letter at a time, this far apart.</param>
/// <param name="Wait">Answers only after this.</param>
internal sealed record Trick(string? Line = null, bool HangUp = false, bool Silent = false, TimeSpan? Drip = null, TimeSpan? Wait = null);

/// <summary>
/// A relay on raw sockets, any number of connections at once. At each point it asks the test what to do. It keeps every content that came
/// whole, whether or not it said so: the worst that a real one can do.
/// </summary>
internal sealed class ScriptedRelay : IAsyncDisposable
{
    private readonly TcpListener listener;
    private readonly CancellationTokenSource stop = new();
    private readonly ConcurrentBag<Task> talks = [];
    private readonly Task running;

    public ScriptedRelay(int port = 0)
    {
        listener = new TcpListener(IPAddress.Loopback, port);
        listener.Start();
        running = RunAsync();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>What to do at a point; the recipient's address is known from <see cref="At.To"/> on.</summary>
    public Func<At, string, Task<Trick?>> Do { get; set; } = (_, _) => Task.FromResult<Trick?>(null);

    /// <summary>Extensions that it announces at EHLO.</summary>
    public IReadOnlyList<string> Offers { get; set; } = [];

    /// <summary>Most commands that came in one go, before any of them was answered.</summary>
    public int MostAtOnce { get; private set; }

    /// <summary>Contents that came whole, in order.</summary>
    public ConcurrentQueue<Content> Contents { get; } = new();

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        listener.Stop();
        await running;
        await Task.WhenAll(talks);
        stop.Dispose();
    }

    private async Task RunAsync()
    {
        while (!stop.IsCancellationRequested)
        {
            try
            {
                talks.Add(TalkAsync(await listener.AcceptTcpClientAsync(stop.Token)));
            }
            catch (Exception ended) when (ended is OperationCanceledException or SocketException)
            {
                // The test is over.
            }
        }
    }

    private async Task TalkAsync(TcpClient caller)
    {
        using (caller)
        {
            caller.NoDelay = true;
            try
            {
                await TalkAsync(caller.GetStream());
            }
            catch (Exception ended) when (ended is OperationCanceledException or IOException or SocketException or ObjectDisposedException)
            {
                // The caller went away, or the test is over.
            }
        }
    }

    private async Task TalkAsync(NetworkStream stream)
    {
        using var reader = new StreamReader(stream, Encoding.Latin1);
        var to = "";
        if (!await AnswerAsync(stream, At.Greeting, to, "220 relay.invalid ESMTP"))
            return;
        Task<string?>? next = null;
        while (await (next ?? reader.ReadLineAsync(stop.Token).AsTask()) is { } line)
        {
            next = null;
            var verb = line.Split(' ', ':')[0].ToUpperInvariant();
            if (verb == "MAIL" && Offers.Contains("PIPELINING"))
            {
                // A client that waits for each answer sends nothing meanwhile.
                next = reader.ReadLineAsync(stop.Token).AsTask();
                await Task.WhenAny(next, Task.Delay(100, stop.Token));
                MostAtOnce = Math.Max(MostAtOnce, next.IsCompleted ? 2 : 1);
            }

            if (verb == "RCPT")
                to = line[(line.IndexOf('<', StringComparison.Ordinal) + 1)..line.IndexOf('>', StringComparison.Ordinal)];
            var goesOn = verb switch
            {
                "EHLO" or "HELO" => await AnswerAsync(stream, At.Hello, to, Hello()),
                "RSET" or "NOOP" => await SayAsync(stream, "250 well"),
                "MAIL" => await AnswerAsync(stream, At.From, to, "250 well"),
                "RCPT" => await AnswerAsync(stream, At.To, to, "250 well"),
                "DATA" => await TakeAsync(stream, reader, to),
                "QUIT" => await AnswerAsync(stream, At.Quit, to, "221 bye") && false,
                _ => await SayAsync(stream, "250 well"),
            };
            if (!goesOn)
                return;
        }
    }

    private string Hello() => string.Join("\r\n", Offers.Prepend("relay.invalid").Select((line, i) => $"250{(i == Offers.Count ? ' ' : '-')}{line}"));

    private async Task<bool> TakeAsync(NetworkStream stream, StreamReader reader, string to)
    {
        var trick = await Do(At.Data, to);
        if (!await PlayAsync(stream, trick, "354 go on"))
            return false;
        if (trick?.Line is { } other && other[0] != '3')
            return true;
        var content = new StringBuilder();
        string? line;
        while ((line = await reader.ReadLineAsync(stop.Token)) is not null and not ".")
            content.Append(line).Append("\r\n");
        if (line is null)
            return false;
        trick = await Do(At.Dot, to);
        // One that says no has not taken it; one that says nothing may have.
        if (trick?.Line is null || trick.Line[0] == '2')
            Contents.Enqueue(new Content(to, content.ToString()));
        if (!await PlayAsync(stream, trick, "250 taken"))
            return false;
        return await Do(At.Taken, to) is not { HangUp: true };
    }

    private async Task<bool> AnswerAsync(NetworkStream stream, At point, string to, string right) => await PlayAsync(stream, await Do(point, to), right);

    private async Task<bool> PlayAsync(NetworkStream stream, Trick? trick, string right)
    {
        if (trick is { Silent: true })
        {
            await Task.Delay(Timeout.Infinite, stop.Token);
            return false;
        }

        if (trick is { HangUp: true, Line: null })
            return false;
        if (trick?.Wait is { } wait)
            await Task.Delay(wait, stop.Token);
        var answer = trick?.Line ?? right;
        if (trick?.Drip is { } pause)
        {
            foreach (var letter in answer)
            {
                await stream.WriteAsync(new[] { (byte)letter }, stop.Token);
                await Task.Delay(pause, stop.Token);
            }

            answer = "";
        }

        await SayAsync(stream, answer);
        return trick is not { HangUp: true };
    }

    private async Task<bool> SayAsync(NetworkStream stream, string line)
    {
        await stream.WriteAsync(Encoding.Latin1.GetBytes(line + "\r\n"), stop.Token);
        return true;
    }

    /// <summary>A content that came whole.</summary>
    internal sealed record Content(string To, string Text)
    {
        public string MessageId => Text.Split("\r\n").First(line => line.StartsWith("Message-Id:", StringComparison.OrdinalIgnoreCase))[11..].Trim();
    }
}
