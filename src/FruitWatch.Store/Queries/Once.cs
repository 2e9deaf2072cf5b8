using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Queries;

/// <summary>
/// Inserts that tell whether the row was new. A duplicate is an answer and not an error: the transaction goes on, which on PostgreSQL
/// it would not after a refused INSERT.
/// </summary>
public static class Once
{
    /// <summary>Takes the round of a site and day. False: somebody has taken it.</summary>
    public static async Task<bool> AddIfNewAsync(
        this FruitWatchStore store, SiteMorning morning, CancellationToken cancellationToken = default)
    {
        var insert = InsertText.For(store, [morning]);
        var sql = insert.Sql + " ON CONFLICT (\"SiteId\", \"On\") DO NOTHING";
        return await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, cancellationToken) == 1;
    }

    /// <summary>Puts a mail in the outbox and gives it its <see cref="OutgoingMail.Id"/>. False: its key is there already.</summary>
    public static async Task<bool> AddIfNewAsync(
        this FruitWatchStore store, OutgoingMail mail, CancellationToken cancellationToken = default)
    {
        // Only the key may be there already. The same Message-ID under another key is a fault, and must not pass for a duplicate.
        var insert = InsertText.For(store, [mail]);
        var sql = insert.Sql + " ON CONFLICT (\"Key\") DO NOTHING RETURNING \"Id\" AS \"Value\"";
        var made = await store.Database.SqlQueryRaw<long>(sql, [.. insert.Parameters]).ToListAsync(cancellationToken);
        if (made.Count == 0) return false;
        mail.Id = made[0];
        return true;
    }

    /// <summary>Puts mails in the outbox and gives each its <see cref="OutgoingMail.Id"/>; leaves out those whose key is there already.</summary>
    /// <returns>Keys of those that are new.</returns>
    public static async Task<IReadOnlySet<string>> AddNewAsync(
        this FruitWatchStore store, IReadOnlyList<OutgoingMail> mails, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(mails);
        var added = new Dictionary<string, long>();
        foreach (var some in mails.Chunk(InsertText.RowsAtOnce))
        {
            var insert = InsertText.For(store, some);
            var sql = insert.Sql + " ON CONFLICT (\"Key\") DO NOTHING RETURNING \"Id\", \"Key\"";
            foreach (var made in await store.Database.SqlQueryRaw<MadeMail>(sql, [.. insert.Parameters]).ToListAsync(cancellationToken))
                added.Add(made.Key, made.Id);
        }

        foreach (var mail in mails.Where(mail => added.ContainsKey(mail.Key)))
            mail.Id = added[mail.Key];
        return added.Keys.ToHashSet();
    }

    /// <summary>Keeps that a mail came back. False: that is known.</summary>
    public static async Task<bool> AddIfNewAsync(this FruitWatchStore store, Bounce bounce, CancellationToken cancellationToken = default)
    {
        var insert = InsertText.For(store, [bounce]);
        var sql = insert.Sql + " ON CONFLICT (\"MailId\") DO NOTHING";
        return await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, cancellationToken) == 1;
    }

    /// <summary>Keeps a value of the service. False: it has one.</summary>
    public static bool AddIfNew(this FruitWatchStore store, Setting setting)
    {
        var insert = InsertText.For(store, [setting]);
        var sql = insert.Sql + " ON CONFLICT (\"Key\") DO NOTHING";
        return store.Database.ExecuteSqlRaw(sql, insert.Parameters) == 1;
    }

    /// <summary>Begins to count failures. False: somebody has begun.</summary>
    public static async Task<bool> AddIfNewAsync(
        this FruitWatchStore store, SignInPace pace, CancellationToken cancellationToken = default)
    {
        var insert = InsertText.For(store, [pace]);
        var sql = insert.Sql + " ON CONFLICT (\"Key\") DO NOTHING";
        return await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, cancellationToken) == 1;
    }

    private sealed record MadeMail(long Id, string Key);
}
