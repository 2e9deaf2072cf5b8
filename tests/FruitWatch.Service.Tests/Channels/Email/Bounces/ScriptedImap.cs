using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>An inbox over IMAP (RFC 3501 with UIDPLUS, RFC 4315) on a raw socket: as much of it as reading reports takes.</summary>
internal sealed class ScriptedImap : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource stop = new();
    private readonly Task running;

    public ScriptedImap()
    {
        listener.Start();
        running = RunAsync();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>By UID.</summary>
    public SortedDictionary<int, byte[]> Messages { get; } = [];

    public ConcurrentQueue<string> Lines { get; } = new();

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
        await SayAsync(stream, "* OK [CAPABILITY IMAP4rev1 UIDPLUS] ready\r\n");
        while (await reader.ReadLineAsync(stop.Token) is { } line)
        {
            var words = line.Split(' ', 3);
            var (tag, verb, rest) = (words[0], words[1].ToUpperInvariant(), words.Length > 2 ? words[2] : "");
            Lines.Enqueue(verb == "LOGIN" ? verb : $"{verb} {rest}");
            var answer = verb switch
            {
                "CAPABILITY" => "* CAPABILITY IMAP4rev1 UIDPLUS\r\n",
                "LIST" or "LSUB" => "* LIST () \"/\" INBOX\r\n",
                "SELECT" => $"* {Messages.Count} EXISTS\r\n* 0 RECENT\r\n* FLAGS (\\Deleted \\Seen)\r\n* OK [PERMANENTFLAGS (\\Deleted \\Seen)] ok\r\n* OK [UIDVALIDITY 7] ok\r\n* OK [UIDNEXT 999] ok\r\n",
                "UID" => Uid(rest, gone),
                "LOGOUT" => "* BYE bye\r\n",
                _ => "",
            };
            await SayAsync(stream, $"{answer}{tag} OK {(verb == "SELECT" ? "[READ-WRITE] " : "")}done\r\n");
            if (verb == "LOGOUT")
                return;
        }
    }

    private string Uid(string command, HashSet<int> gone)
    {
        var words = command.Split(' ', 3);
        switch (words[0].ToUpperInvariant())
        {
            case "SEARCH":
                var found = Messages.Where(message => Header(message.Value).Contains("multipart/", StringComparison.OrdinalIgnoreCase)).Select(message => message.Key);
                return $"* SEARCH {string.Join(' ', found)}\r\n";
            case "FETCH":
                var uid = int.Parse(words[1], System.Globalization.CultureInfo.InvariantCulture);
                var at = Messages.Keys.ToList().IndexOf(uid) + 1;
                return $"* {at} FETCH (UID {uid} BODY[] {{{Messages[uid].Length}}}\r\n{Encoding.Latin1.GetString(Messages[uid])})\r\n";
            case "STORE":
                gone.UnionWith(words[1].Split(',').Select(id => int.Parse(id, System.Globalization.CultureInfo.InvariantCulture)));
                return "";
            case "EXPUNGE":
                var told = new StringBuilder();
                foreach (var id in gone.Where(Messages.ContainsKey))
                {
                    told.Append(System.Globalization.CultureInfo.InvariantCulture, $"* {Messages.Keys.ToList().IndexOf(id) + 1} EXPUNGE\r\n");
                    Messages.Remove(id);
                }

                return told.ToString();
            default:
                return "";
        }
    }

    private static string Header(byte[] message)
    {
        var text = Encoding.Latin1.GetString(message);
        return text[..text.IndexOf("\r\n\r\n", StringComparison.Ordinal)];
    }

    private async Task SayAsync(NetworkStream stream, string text) => await stream.WriteAsync(Encoding.Latin1.GetBytes(text), stop.Token);
}
