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

    /// <summary>Whether it keeps marks that a client makes up (RFC 9051 section 2.3.2).</summary>
    private readonly bool marks;

    public ScriptedImap(bool marks = true)
    {
        this.marks = marks;
        listener.Start();
        running = RunAsync();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>By UID.</summary>
    public SortedDictionary<int, byte[]> Messages { get; } = [];

    /// <summary>What is set on each, by UID; kept between connections.</summary>
    public Dictionary<int, HashSet<string>> Flags { get; } = [];

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
                "SELECT" => $"* {Messages.Count} EXISTS\r\n* 0 RECENT\r\n* FLAGS (\\Deleted \\Seen)\r\n* OK [PERMANENTFLAGS (\\Deleted \\Seen{(marks ? " \\*" : "")})] ok\r\n* OK [UIDVALIDITY 7] ok\r\n* OK [UIDNEXT 999] ok\r\n",
                "UID" => Uid(rest),
                "LOGOUT" => "* BYE bye\r\n",
                _ => "",
            };
            await SayAsync(stream, $"{answer}{tag} OK {(verb == "SELECT" ? "[READ-WRITE] " : "")}done\r\n");
            if (verb == "LOGOUT")
                return;
        }
    }

    private string Uid(string command)
    {
        var words = command.Split(' ', 3);
        switch (words[0].ToUpperInvariant())
        {
            case "SEARCH":
                return $"* SEARCH {string.Join(' ', Messages.Keys.Where(uid => new ImapSearch(Messages[uid], FlagsOf(uid)).Finds(command["SEARCH ".Length..])))}\r\n";
            case "FETCH":
                var uid = Uids(words[1]).Single();
                return $"* {NumberOf(uid)} FETCH (UID {uid} BODY[] {{{Messages[uid].Length}}}\r\n{Encoding.Latin1.GetString(Messages[uid])})\r\n";
            case "STORE":
                foreach (var id in Uids(words[1]))
                    FlagsOf(id).UnionWith(words[2][(words[2].IndexOf('(', StringComparison.Ordinal) + 1)..].TrimEnd(')').Split(' '));
                return "";
            case "EXPUNGE":
                var told = new StringBuilder();
                // RFC 4315 section 2.1: those that are named and marked as deleted, and no others.
                foreach (var id in Uids(words[1]).Where(id => FlagsOf(id).Contains("\\Deleted")).ToList())
                {
                    told.Append(System.Globalization.CultureInfo.InvariantCulture, $"* {NumberOf(id)} EXPUNGE\r\n");
                    Messages.Remove(id);
                }

                return told.ToString();
            default:
                return "";
        }
    }

    private HashSet<string> FlagsOf(int uid)
    {
        if (!Flags.TryGetValue(uid, out var flags))
            Flags[uid] = flags = [];
        return flags;
    }

    private int NumberOf(int uid) => Messages.Keys.ToList().IndexOf(uid) + 1;

    // "3,9:7": of a range, whichever end stands first, those that there are.
    private IEnumerable<int> Uids(string set)
    {
        foreach (var part in set.Split(','))
        {
            var ends = part.Split(':').Select(end => int.Parse(end, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
            foreach (var uid in Messages.Keys.Where(uid => uid >= ends.Min() && uid <= ends.Max()).ToList())
                yield return uid;
        }
    }

    private async Task SayAsync(NetworkStream stream, string text) => await stream.WriteAsync(Encoding.Latin1.GetBytes(text), stop.Token);
}
