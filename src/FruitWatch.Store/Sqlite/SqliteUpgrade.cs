using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Store.Sqlite;

/// <summary>
/// Upgrade of the SQLite file. EF marks a running migration by a row, and a process that is killed leaves the row behind: every later
/// start would wait for it without end (dotnet/efcore#38958). Here a lock of the operating system says who upgrades; it goes with its
/// process, and whoever holds it may clear the row.
/// </summary>
internal static class SqliteUpgrade
{
    private const int CopiesKept = 3;
    private const int NotADatabase = 26;
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(100);
    private static readonly InstantPattern FileStamp = InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");

    public static async Task RunAsync(
        FruitWatchStore store, string file, IClock clock, ILogger logger, CancellationToken cancellationToken)
    {
        MakeFolder(file);
        await using var only = await HoldAsync(file + ".upgrade", cancellationToken);
        try
        {
            var (applied, pending) = await StoreMigration.CompareAsync(store, cancellationToken);
            if (pending.Count > 0)
            {
                if (applied > 0) await CopyAsync(store, file, clock, logger, cancellationToken);
                await ClearStaleLockAsync(store, file, logger, cancellationToken);
                logger.LogInformation("Upgrading the store: {Migrations}", string.Join(", ", pending));
                await store.Database.MigrateAsync(cancellationToken);
            }

            // Kept in the file, but a file put back from a copy comes without it.
            await store.Database.ExecuteSqlRawAsync("PRAGMA journal_mode = WAL", cancellationToken);
        }
        catch (SqliteException wrong) when (wrong.SqliteErrorCode == NotADatabase)
        {
            throw new StoreException($"{file} is not a FruitWatch store. Nothing was changed. Move it away, or put a copy back in its place.", wrong);
        }
    }

    private static void MakeFolder(string file)
    {
        var folder = Path.GetDirectoryName(file)!;
        try
        {
            // Addresses of people are in it. A folder that is there keeps the rights that the operator gave it.
            if (OperatingSystem.IsWindows()) Directory.CreateDirectory(folder);
            else Directory.CreateDirectory(folder, OwnerOnly);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new StoreException($"The folder {folder} cannot be made: {problem.Message} Make it, or name another in Store:DataFolder.", problem);
        }
    }

    private static async Task<FileStream> HoldAsync(string path, CancellationToken cancellationToken)
    {
        while (true)
        {
            try
            {
                return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (UnauthorizedAccessException problem)
            {
                throw new StoreException($"The folder of the store cannot be written: {problem.Message} Give the service the right to write there.", problem);
            }
            catch (IOException) when (File.Exists(path))
            {
                await Task.Delay(Pause, cancellationToken); // another process upgrades
            }
        }
    }

    // Under another name until it is whole, so that half a copy is never taken for one.
    private static async Task CopyAsync(
        FruitWatchStore store, string file, IClock clock, ILogger logger, CancellationToken cancellationToken)
    {
        var folder = Path.Combine(Path.GetDirectoryName(file)!, "before-upgrade");
        Directory.CreateDirectory(folder);
        var name = Path.GetFileNameWithoutExtension(file);
        var copy = Path.Combine(folder, $"{name}-{FileStamp.Format(clock.GetCurrentInstant())}.db");
        var part = copy + ".part";
        File.Delete(part);
        await store.Database.ExecuteSqlAsync($"VACUUM INTO {part}", cancellationToken);
        File.Move(part, copy, overwrite: true);
        logger.LogInformation("Copied the store to {Copy}", copy);
        foreach (var old in Directory.GetFiles(folder, $"{name}-*.db").OrderDescending(StringComparer.Ordinal).Skip(CopiesKept))
            File.Delete(old);
    }

    private static async Task ClearStaleLockAsync(
        FruitWatchStore store, string file, ILogger logger, CancellationToken cancellationToken)
    {
        if (!File.Exists(file)) return;
        var tables = await store.Database.SqlQueryRaw<string>(
            "SELECT name AS \"Value\" FROM sqlite_master WHERE name = '__EFMigrationsLock'").ToListAsync(cancellationToken);
        if (tables.Count == 0) return;
        var rows = await store.Database.ExecuteSqlRawAsync("DELETE FROM \"__EFMigrationsLock\"", cancellationToken);
        if (rows > 0) logger.LogWarning("An earlier upgrade of the store was cut short; its lock is cleared and the upgrade is done again");
    }
}
