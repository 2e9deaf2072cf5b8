using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace FruitWatch.Store.Postgres;

/// <summary>Upgrade of a PostgreSQL database. Several servers may start at once: one alters while the others wait.</summary>
internal static class PostgresUpgrade
{
    private const string SignInRefused = "28"; // SQLSTATE class: invalid authorization

    // Any number that nobody else uses in this database. EF's own lock ends with each migration, and what is pending was counted
    // before: two servers with two migrations to make would make the second one twice.
    private const long UpgradeLock = 0x4652_5549_5457;

    public static async Task RunAsync(FruitWatchStore store, ILogger logger, CancellationToken cancellationToken)
    {
        try
        {
            // Asked first, because the migration would make a missing database, and of two servers doing so one fails.
            await store.Database.OpenConnectionAsync(cancellationToken);
            var (_, pending) = await StoreMigration.CompareAsync(store, cancellationToken);
            if (pending.Count == 0) return;
            await store.Database.ExecuteSqlAsync($"SELECT pg_advisory_lock({UpgradeLock})", cancellationToken);
            try
            {
                (_, pending) = await StoreMigration.CompareAsync(store, cancellationToken);
                if (pending.Count == 0) return;
                logger.LogInformation("Upgrading the store: {Migrations}", string.Join(", ", pending));
                await store.Database.MigrateAsync(cancellationToken);
            }
            finally
            {
                // The connection goes back to its pool alive, and the lock with it.
                if (store.Database.GetDbConnection().State == System.Data.ConnectionState.Open)
                    await store.Database.ExecuteSqlAsync($"SELECT pg_advisory_unlock({UpgradeLock})", CancellationToken.None);
            }
        }
        catch (PostgresException missing) when (missing.SqlState == PostgresErrorCodes.InvalidCatalogName)
        {
            throw new StoreException($"{missing.MessageText}. Create it first: CREATE DATABASE … OWNER …, then start again.", missing);
        }
        catch (PostgresException stranger) when (stranger.SqlState.StartsWith(SignInRefused, StringComparison.Ordinal))
        {
            throw new StoreException($"PostgreSQL refused the sign-in: {stranger.MessageText}. Check user and password in Store:ConnectionString.", stranger);
        }
        catch (NpgsqlException away) when (away is not PostgresException)
        {
            throw NoAnswer(away);
        }
        catch (InvalidOperationException wrapped) when (wrapped.InnerException is NpgsqlException away)
        {
            throw NoAnswer(away); // EF wraps what might pass when tried again
        }
    }

    private static StoreException NoAnswer(NpgsqlException away) =>
        new($"PostgreSQL does not answer: {away.Message}. Check Store:ConnectionString and that the server runs.", away);
}
