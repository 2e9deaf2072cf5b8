using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Something about mail that the operator has to mend.</summary>
/// <param name="Since">Since when.</param>
/// <param name="Problem">What went wrong last; may name hosts, and is for the operator only.</param>
internal sealed record MailTrouble(Instant Since, string Problem);

/// <summary>
/// What keeps mails from leaving, or reports from being read, for the page of mails. Kept in the store, because the server that sends need
/// not be the one that is asked.
/// </summary>
internal static class MailTroubles
{
    /// <summary>The relay, or the folder, cannot be used.</summary>
    public const string Route = "mail.trouble.route";

    /// <summary>Mails wait for the next hour's allowance.</summary>
    public const string Allowance = "mail.trouble.allowance";

    /// <summary>The mailbox of bounces cannot be read.</summary>
    public const string Mailbox = "mail.trouble.mailbox";

    private const string Prefix = "mail.trouble.";

    /// <summary>Notes that there is a trouble, or that there is none. The first moment stays.</summary>
    public static async Task NoteAsync(FruitWatchStore store, string what, string? problem, Instant now, CancellationToken stop)
    {
        var row = await store.Settings.AsNoTracking().SingleOrDefaultAsync(setting => setting.Key == what, stop);
        if (problem is null)
        {
            if (row is not null)
                await store.Settings.Where(setting => setting.Key == what).ExecuteDeleteAsync(stop);
            return;
        }

        var value = $"{InstantPattern.ExtendedIso.Format((row is null ? null : Read(row.Value))?.Since ?? now)} {problem}";
        // Another server may note it at the same moment; then its word stands.
        if (row is null)
            store.AddIfNew(new Setting { Key = what, Value = value });
        else if (row.Value != value)
            await store.Settings.Where(setting => setting.Key == what).ExecuteUpdateAsync(set => set.SetProperty(setting => setting.Value, value), stop);
    }

    /// <summary>What there is now, by what it is.</summary>
    public static async Task<IReadOnlyDictionary<string, MailTrouble>> OfAsync(FruitWatchStore store, CancellationToken stop)
    {
        var rows = await store.Settings.AsNoTracking().Where(setting => setting.Key.StartsWith(Prefix)).ToListAsync(stop);
        return rows.Select(row => (row.Key, Trouble: Read(row.Value))).Where(row => row.Trouble is not null).ToDictionary(row => row.Key, row => row.Trouble!);
    }

    private static MailTrouble? Read(string value)
    {
        var end = value.IndexOf(' ', StringComparison.Ordinal);
        return end > 0 && InstantPattern.ExtendedIso.Parse(value[..end]) is { Success: true } since ? new MailTrouble(since.Value, value[(end + 1)..]) : null;
    }
}
