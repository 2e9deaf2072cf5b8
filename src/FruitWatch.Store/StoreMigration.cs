using FruitWatch.Store.Postgres;
using FruitWatch.Store.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace FruitWatch.Store;

/// <summary>Brings the tables up to what this program knows, before anything else uses the store.</summary>
public static class StoreMigration
{
    /// <summary>
    /// Makes or upgrades the store; does nothing where it is up to date. On SQLite the folder is made, the file is copied before it
    /// is altered (the last three copies are kept), and what a start that was cut short left behind is cleared.
    /// </summary>
    /// <exception cref="StoreException">The store cannot be used: not reachable, not a store, of a newer program, or too slow.</exception>
    public static async Task PrepareAsync(
        StoreFactory factory, IClock clock, ILogger logger, CancellationToken cancellationToken = default)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        limit.CancelAfter(factory.UpgradeWithin);
        try
        {
            await using var store = factory.CreateDbContext();
            store.Database.SetCommandTimeout(factory.UpgradeWithin);
            await (factory.File is { } file
                ? SqliteUpgrade.RunAsync(store, file, clock, logger, limit.Token)
                : PostgresUpgrade.RunAsync(store, logger, limit.Token));
        }
        catch (OperationCanceledException late) when (!cancellationToken.IsCancellationRequested)
        {
            throw new StoreException(
                $"The store was not up to date within {factory.UpgradeWithin}. Is another FruitWatch upgrading it? Stop it, or raise Store:UpgradeWithin.",
                late);
        }
    }

    /// <summary>Whether the tables are exactly those that this program knows.</summary>
    public static async Task<bool> IsCurrentAsync(FruitWatchStore store, CancellationToken cancellationToken = default)
    {
        var applied = await store.Database.GetAppliedMigrationsAsync(cancellationToken);
        return applied.SequenceEqual(store.Database.GetMigrations());
    }

    /// <summary>What is to be applied, refusing a store that a newer program has altered.</summary>
    internal static async Task<(int Applied, IReadOnlyList<string> Pending)> CompareAsync(
        FruitWatchStore store, CancellationToken cancellationToken)
    {
        var known = store.Database.GetMigrations().ToList();
        var applied = (await store.Database.GetAppliedMigrationsAsync(cancellationToken)).ToList();
        var unknown = applied.Except(known).ToList();
        if (unknown.Count > 0)
        {
            throw new StoreException(
                $"The store was altered by a newer FruitWatch ({string.Join(", ", unknown)}). Nothing was changed. Install that version, or restore a copy made before it.");
        }

        return (applied.Count, known.Except(applied).ToList());
    }
}
