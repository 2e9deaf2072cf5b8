using System.Data.Common;
using MailKit;
using Microsoft.EntityFrameworkCore;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>What became of a message.</summary>
internal enum Handed
{
    /// <summary>It is needed no more.</summary>
    Taken,

    /// <summary>It stays, and is not looked at again.</summary>
    Left,

    /// <summary>It stays for the next time.</summary>
    Later,
}

/// <summary>
/// One look into a mailbox. What is not for the service stays in the box for people, so only what is taken counts against the number for one time,
/// and what stays is remembered: it must not hide what lies behind it. One message that nobody can read ends nothing.
/// </summary>
/// <param name="most">How many are taken at most.</param>
/// <param name="left">What was left before.</param>
/// <param name="take">What is done with one; whether it is needed no more.</param>
/// <param name="log">Where to say what went wrong.</param>
internal sealed class BoxLook(int most, LeftMessages left, Func<MimeMessage, Task<bool>> take, ILogger log)
{
    /// <summary>How many that were not known are looked at in one go, taken or not.</summary>
    public const int MostLooked = 1000;

    /// <summary>After so many in a row that could not be kept it is the store and not the message.</summary>
    private const int MostFailures = 5;

    private int taken;
    private int looked;
    private int failures;

    /// <summary>Whether it is enough for this time.</summary>
    public bool Enough => taken >= most || looked >= MostLooked || Failing;

    /// <summary>Whether the end came because the store keeps nothing.</summary>
    public bool Failing => failures >= MostFailures;

    /// <summary>Forgets what is not in the box any more.</summary>
    public void Keep(IEnumerable<string> ids) => left.Keep(ids);

    /// <summary>Whether it was not left before.</summary>
    /// <param name="id">What the server calls it for good; null where it has no such name.</param>
    public bool IsNew(string? id) => id is null || !left.Has(id);

    /// <summary>Looks at one no more, from its header alone.</summary>
    public void Leave(string? id)
    {
        looked++;
        left.Add(id);
    }

    /// <summary>Reads a message and hands it over. A connection that breaks is told; anything else is this message's own.</summary>
    public async Task<Handed> TakeAsync(string? id, Func<Task<Stream>> read, CancellationToken stop)
    {
        looked++;
        try
        {
            await using var content = await read();
            using var message = await MimeMessage.LoadAsync(content, stop);
            if (await HandOverAsync(message))
            {
                (taken, failures) = (taken + 1, 0);
                return Handed.Taken;
            }
        }
        catch (Exception unreadable) when (!stop.IsCancellationRequested && unreadable is FormatException or CommandException or UnusableException)
        {
            var error = unreadable.InnerException ?? unreadable;
            log.LogWarning("A message in the mailbox of bounces is left, because it cannot be read: {Problem}", OneLine.Of($"{error.GetType().Name}: {error.Message}", 300));
            if (error is DbException or DbUpdateException)
            {
                failures++;
                return Handed.Later;
            }
        }

        failures = 0;
        left.Add(id);
        return Handed.Left;
    }

    private async Task<bool> HandOverAsync(MimeMessage message)
    {
        try
        {
            return await take(message);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            throw new UnusableException(error);
        }
    }

    /// <summary>What goes wrong with a message that is there; never to be taken for a connection that breaks.</summary>
    private sealed class UnusableException(Exception inner) : Exception(inner.Message, inner);
}

/// <summary>Messages that are not for the service and were left in the box, for as long as the program runs.</summary>
internal sealed class LeftMessages
{
    private const int Most = 100_000;
    private readonly HashSet<string> ids = [];
    private readonly Lock door = new();

    public bool Has(string id)
    {
        lock (door)
            return ids.Contains(id);
    }

    public void Add(string? id)
    {
        if (id is null)
            return;
        lock (door)
        {
            if (ids.Count >= Most)
                ids.Clear();
            ids.Add(id);
        }
    }

    public void Keep(IEnumerable<string> there)
    {
        var still = there.ToHashSet();
        lock (door)
            ids.IntersectWith(still);
    }
}
