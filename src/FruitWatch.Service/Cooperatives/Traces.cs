using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Cooperatives;

/// <summary>
/// Sees to it that what was deleted cannot be read from the SQLite file any more: what a page of the file once held is left in it until
/// the page is written anew. On PostgreSQL the server reuses the place by itself; see docs/export.md.
/// </summary>
internal sealed class Traces(StoreFactory stores, ILogger<Traces> log)
{
    private const string DueKey = "wipe-due";
    private const int Tries = 20;
    private static readonly TimeSpan s_pause = TimeSpan.FromMilliseconds(100);

    /// <summary>Overwrites what this connection deletes from now on.</summary>
    public static async Task LeaveNoneAsync(FruitWatchStore store, CancellationToken stop)
    {
        if (store.Database.IsSqlite())
            await store.Database.ExecuteSqlRawAsync("PRAGMA secure_delete = ON", stop);
    }

    /// <summary>Writes the file anew and empties its log. Where somebody reads all the time it is tried again at night.</summary>
    public async Task WipeAsync(CancellationToken stop)
    {
        if (stores.File is null)
            return;
        await using var store = stores.CreateDbContext();
        try
        {
            await LeaveNoneAsync(store, stop);
            await store.Database.ExecuteSqlRawAsync("VACUUM", stop);
            for (var i = 0; i < Tries; i++)
            {
                if (await EmptyLogAsync(store, stop))
                {
                    await store.Settings.Where(row => row.Key == DueKey).ExecuteDeleteAsync(stop);
                    return;
                }

                await Task.Delay(s_pause, stop);
            }
        }
        catch (SqliteException busy) when (busy.SqliteErrorCode is SQLitePCL.raw.SQLITE_BUSY or SQLitePCL.raw.SQLITE_LOCKED)
        {
        }

        log.LogWarning("The store's file is in use; what was deleted is overwritten tonight");
        if (!await store.Settings.AnyAsync(row => row.Key == DueKey, stop))
        {
            store.Settings.Add(new Setting { Key = DueKey, Value = "yes" });
            await store.SaveChangesAsync(stop);
        }
    }

    /// <summary>What was put off.</summary>
    public async Task WipeDueAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        if (stores.File is not null && await store.Settings.AnyAsync(row => row.Key == DueKey, stop))
            await WipeAsync(stop);
    }

    private static async Task<bool> EmptyLogAsync(FruitWatchStore store, CancellationToken stop)
    {
        await store.Database.OpenConnectionAsync(stop);
        await using var command = store.Database.GetDbConnection().CreateCommand();
        command.CommandText = "PRAGMA wal_checkpoint(TRUNCATE)";
        return await command.ExecuteScalarAsync(stop) is 0L;
    }
}
