using System.Globalization;
using System.Reflection;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using NodaTime;

namespace FruitWatch.Service.Cooperatives;

/// <summary>
/// Removes a whole cooperative: every row of every table that is bounded to it, in one transaction, and its files. What is left is one
/// line in the audit of the service: that the cooperative of this key was deleted, when, and which way.
/// </summary>
internal sealed class CooperativeRemoval(StoreFactory stores, ServiceOptions options, Traces traces, IClock clock)
{
    private static readonly MethodInfo s_delete =
        typeof(CooperativeRemoval).GetMethod(nameof(DeleteRowsAsync), BindingFlags.Static | BindingFlags.NonPublic)!;

    /// <summary>Removes it.</summary>
    /// <param name="cooperativeId">Which.</param>
    /// <param name="via">Which way whoever asked for it came.</param>
    /// <param name="stop">Stops it; nothing is deleted then.</param>
    /// <returns>False where there is none.</returns>
    public async Task<bool> RemoveAsync(long cooperativeId, string via, CancellationToken stop)
    {
        var reach = new Reach();
        reach.Open(cooperativeId, via, clock);
        await using var whole = stores.CreateDbContext(reach);
        List<long> mails;
        await using (var transaction = await whole.Database.BeginTransactionAsync(stop))
        {
            await Traces.LeaveNoneAsync(whole, stop);
            await PersonRemoval.HoldAsync(whole, cooperativeId, stop);
            if (!await whole.Cooperatives.AnyAsync(stop))
                return false;
            mails = await whole.Outbox.Select(mail => mail.Id).ToListAsync(stop);
            var accounts = await whole.People.Where(person => person.AccountId != null)
                .Select(person => new { Id = person.AccountId!.Value, person.Email }).ToListAsync(stop);
            foreach (var table in ChildrenFirst(whole.Model))
                await (Task)s_delete.MakeGenericMethod(table.ClrType).Invoke(null, [whole, table, stop])!;
            foreach (var account in accounts)
                mails.AddRange(await PersonRemoval.DeleteAccountAsync(whole, account.Id, account.Email, stop));
            whole.Audit.Add(new AuditEntry
            {
                At = clock.GetCurrentInstant(),
                Via = via,
                Action = "cooperative.deleted",
                SubjectId = cooperativeId.ToString(CultureInfo.InvariantCulture),
            });
            await whole.SaveChangesAsync(stop);
            await transaction.CommitAsync(stop);
        }

        FolderRoute.Delete(options.MailFolder, mails);
        if (Directory.Exists(options.FeedFolder(cooperativeId)))
            Directory.Delete(options.FeedFolder(cooperativeId), recursive: true);
        await traces.WipeAsync(stop);
        return true;
    }

    /// <summary>The tables that are bounded to a cooperative, each before those that it refers to.</summary>
    internal static IReadOnlyList<IEntityType> ChildrenFirst(IModel model)
    {
        var waiting = model.GetEntityTypes().Where(table => table.GetDeclaredQueryFilters().Count > 0).OrderBy(table => table.Name, StringComparer.Ordinal).ToList();
        var ordered = new List<IEntityType>();
        while (waiting.Count > 0)
        {
            // Nothing that still waits refers to it.
            var next = waiting.Find(table => !waiting.Exists(other => other != table && other.GetForeignKeys().Any(key => key.PrincipalEntityType == table)))
                ?? throw new InvalidOperationException($"The tables {string.Join(", ", waiting.Select(table => table.ClrType.Name))} refer to each other in a ring.");
            waiting.Remove(next);
            ordered.Add(next);
        }

        return ordered;
    }

    // The store is bounded to the cooperative, and so is what is deleted.
    private static async Task DeleteRowsAsync<T>(FruitWatchStore whole, IEntityType table, CancellationToken stop)
        where T : class
    {
        foreach (var key in table.GetForeignKeys().Where(key => key.PrincipalEntityType == table))
        {
            // Rows that refer to each other let go first: neither could be the first to be deleted.
            var column = key.Properties.Single().Name;
            await whole.Set<T>().ExecuteUpdateAsync(set => set.SetProperty(row => EF.Property<long?>(row, column), (long?)null), stop);
        }

        await whole.Set<T>().ExecuteDeleteAsync(stop);
    }
}
