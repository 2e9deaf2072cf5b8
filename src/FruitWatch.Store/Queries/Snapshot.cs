using System.Data;
using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Queries;

/// <summary>Many queries that see the same moment, while others go on writing.</summary>
public static class Snapshot
{
    /// <summary>Begins it; what is read until it is disposed of stands as it did at the first query.</summary>
    public static async Task<IAsyncDisposable> BeginAsync(FruitWatchStore store, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        if (store.Database.GetDbConnection() is not SqliteConnection file)
            return await store.Database.BeginTransactionAsync(IsolationLevel.RepeatableRead, cancellationToken);
        // EF begins transactions on SQLite as a writer, which would hold up all others.
        await store.Database.OpenConnectionAsync(cancellationToken);
        DbTransaction reading = file.BeginTransaction(deferred: true);
        await store.Database.UseTransactionAsync(reading, cancellationToken);
        return new Reading(store, reading);
    }

    private sealed class Reading(FruitWatchStore store, DbTransaction reading) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            await store.Database.UseTransactionAsync(null);
            await reading.DisposeAsync();
            await store.Database.CloseConnectionAsync();
        }
    }
}
