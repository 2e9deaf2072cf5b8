using FruitWatch.Store.Sqlite;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Store.Tests.Upgrade;

public sealed class SqliteUpgradeTests : IDisposable
{
    private const string StaleLock = """
        CREATE TABLE IF NOT EXISTS "__EFMigrationsLock" ("Id" INTEGER NOT NULL PRIMARY KEY, "Timestamp" TEXT NOT NULL);
        INSERT INTO "__EFMigrationsLock" VALUES (1, '2026-01-01 00:00:00');
        """;

    private readonly string folder = Directory.CreateTempSubdirectory("fruitwatch-upgrade-").FullName;
    private readonly FakeClock clock = new(Instant.FromUtc(2026, 10, 5, 4, 12, 33));
    private readonly LogLines log = new();

    private string File => Path.Combine(folder, "fruitwatch.db");

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task The_first_start_makes_the_folder_and_all_tables()
    {
        var factory = new StoreFactory(new StoreOptions { DataFolder = Path.Combine(folder, "new", "data") });
        await StoreMigration.PrepareAsync(factory, clock, log);
        await using var store = factory.CreateDbContext();
        Assert.Equal(0, await store.Outbox.CountAsync());
        Assert.True(await StoreMigration.IsCurrentAsync(store));
        Assert.False(Directory.Exists(Path.Combine(folder, "new", "data", "before-upgrade")));
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, System.IO.File.GetUnixFileMode(Path.GetDirectoryName(factory.File)!));
    }

    [Fact]
    public async Task Writes_go_to_a_log_references_are_checked_and_a_writer_waits_ten_seconds()
    {
        var factory = new StoreFactory(new StoreOptions { DataFolder = folder });
        await StoreMigration.PrepareAsync(factory, clock, log);
        await using var store = factory.CreateDbContext();
        Assert.Equal("wal", await ValueAsync(store, "SELECT journal_mode AS Value FROM pragma_journal_mode"));
        Assert.Equal("1", await ValueAsync(store, "SELECT CAST(foreign_keys AS TEXT) AS Value FROM pragma_foreign_keys"));
        Assert.Equal("2", await ValueAsync(store, "SELECT CAST(synchronous AS TEXT) AS Value FROM pragma_synchronous")); // FULL
        Assert.Equal(10, ((SqliteConnection)store.Database.GetDbConnection()).DefaultTimeout);
    }

    [Fact]
    public async Task A_start_with_nothing_to_do_changes_nothing_and_says_nothing()
    {
        var factory = new StoreFactory(new StoreOptions { DataFolder = folder });
        await StoreMigration.PrepareAsync(factory, clock, log);
        log.Lines.Clear();
        await StoreMigration.PrepareAsync(factory, clock, log);
        Assert.Empty(log.Lines);
        Assert.False(Directory.Exists(Path.Combine(folder, "before-upgrade")));
    }

    [Fact]
    public async Task The_file_is_copied_before_it_is_altered()
    {
        await HaveStepOneAsync();
        await UpgradeAsync();
        Assert.Equal(["before", "after"], await WordsAsync(File));
        var copy = Assert.Single(Directory.GetFiles(Path.Combine(folder, "before-upgrade")));
        Assert.Equal("fruitwatch-20261005T041233Z.db", Path.GetFileName(copy));
        Assert.Equal(["before"], await WordsAsync(copy));
    }

    [Fact]
    public async Task The_last_three_copies_are_kept()
    {
        await HaveStepOneAsync();
        var copies = Directory.CreateDirectory(Path.Combine(folder, "before-upgrade")).FullName;
        foreach (var year in new[] { 2022, 2023, 2024, 2025 })
            await System.IO.File.WriteAllTextAsync(Path.Combine(copies, $"fruitwatch-{year}0101T000000Z.db"), "");
        await System.IO.File.WriteAllTextAsync(Path.Combine(copies, "notes.txt"), "not a copy");
        await UpgradeAsync();
        Assert.Equal(
            ["fruitwatch-20240101T000000Z.db", "fruitwatch-20250101T000000Z.db", "fruitwatch-20261005T041233Z.db", "notes.txt"],
            Directory.GetFiles(copies).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task An_upgrade_that_was_killed_is_done_again_at_the_next_start(bool atFirstStart)
    {
        if (!atFirstStart) await HaveStepOneAsync();
        await ExecuteAsync(StaleLock);
        await UpgradeAsync();
        Assert.Equal(["before", "after"], await WordsAsync(File));
        Assert.Contains(log.Lines, line => line.StartsWith("Warning: An earlier upgrade", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_start_waits_for_another_that_upgrades_and_gives_up_in_time()
    {
        var factory = new StoreFactory(new StoreOptions { DataFolder = folder, UpgradeWithin = TimeSpan.FromMilliseconds(300) });
        await using (new FileStream(File + ".upgrade", FileMode.Create, FileAccess.ReadWrite, FileShare.None))
        {
            var refused = await Assert.ThrowsAsync<StoreException>(() => StoreMigration.PrepareAsync(factory, clock, log));
            Assert.Contains("Is another FruitWatch upgrading it?", refused.Message, StringComparison.Ordinal);
        }

        Assert.False(System.IO.File.Exists(File));
    }

    [Fact]
    public async Task Three_starts_at_once_make_one_store()
    {
        var factory = new StoreFactory(new StoreOptions { DataFolder = folder });
        await Task.WhenAll(Enumerable.Range(0, 3).Select(_ => Task.Run(() => StoreMigration.PrepareAsync(factory, clock, log))));
        await using var store = factory.CreateDbContext();
        Assert.True(await StoreMigration.IsCurrentAsync(store));
        Assert.Single(log.Lines);
    }

    [Fact]
    public async Task A_store_of_a_newer_program_is_refused_and_left_as_it_is()
    {
        var factory = new StoreFactory(new StoreOptions { DataFolder = folder });
        await StoreMigration.PrepareAsync(factory, clock, log);
        await ExecuteAsync("INSERT INTO \"__EFMigrationsHistory\" VALUES ('29990101000000_Later', '99.0.0')");
        SqliteConnection.ClearAllPools();
        var before = await System.IO.File.ReadAllBytesAsync(File);

        var refused = await Assert.ThrowsAsync<StoreException>(() => StoreMigration.PrepareAsync(factory, clock, log));

        SqliteConnection.ClearAllPools();
        Assert.Contains("newer FruitWatch (29990101000000_Later)", refused.Message, StringComparison.Ordinal);
        Assert.Equal(before, await System.IO.File.ReadAllBytesAsync(File));
        Assert.False(Directory.Exists(Path.Combine(folder, "before-upgrade")));
    }

    [Fact]
    public async Task A_file_that_is_no_store_is_refused_and_left_as_it_is()
    {
        var text = string.Concat(Enumerable.Repeat("date,tmax,tmin,rain\n", 200));
        await System.IO.File.WriteAllTextAsync(File, text);
        var factory = new StoreFactory(new StoreOptions { DataFolder = folder });
        var refused = await Assert.ThrowsAsync<StoreException>(() => StoreMigration.PrepareAsync(factory, clock, log));
        Assert.Contains($"{File} is not a FruitWatch store", refused.Message, StringComparison.Ordinal);
        Assert.Equal(text, await System.IO.File.ReadAllTextAsync(File));
    }

    [Fact]
    public async Task A_folder_that_cannot_be_made_is_named()
    {
        await System.IO.File.WriteAllTextAsync(Path.Combine(folder, "taken"), "");
        var factory = new StoreFactory(new StoreOptions { DataFolder = Path.Combine(folder, "taken") });
        var refused = await Assert.ThrowsAsync<StoreException>(() => StoreMigration.PrepareAsync(factory, clock, log));
        Assert.Contains($"The folder {Path.Combine(folder, "taken")} cannot be made", refused.Message, StringComparison.Ordinal);
    }

    private async Task HaveStepOneAsync()
    {
        await using var store = TwoSteps.Open(File);
        await store.GetService<IMigrator>().MigrateAsync(TwoSteps.One);
    }

    private async Task UpgradeAsync()
    {
        // A lock that is not cleared would be waited for without end.
        using var limit = new CancellationTokenSource(TimeSpan.FromMinutes(1));
        await using var store = TwoSteps.Open(File);
        await SqliteUpgrade.RunAsync(store, File, clock, log, limit.Token);
    }

    private async Task ExecuteAsync(string sql)
    {
        await using var store = TwoSteps.Open(File);
        await store.Database.ExecuteSqlRawAsync(sql);
    }

    private static async Task<List<string>> WordsAsync(string file)
    {
        await using var store = TwoSteps.Open(file);
        return await store.Database.SqlQueryRaw<string>("SELECT Word AS Value FROM Kept ORDER BY rowid").ToListAsync();
    }

    private static Task<string> ValueAsync(FruitWatchStore store, string sql) =>
        store.Database.SqlQueryRaw<string>(sql).SingleAsync();

    private sealed class LogLines : ILogger
    {
        public System.Collections.Concurrent.ConcurrentQueue<string> Lines { get; } = new();

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            Lines.Enqueue($"{logLevel}: {formatter(state, exception)}");
    }
}
