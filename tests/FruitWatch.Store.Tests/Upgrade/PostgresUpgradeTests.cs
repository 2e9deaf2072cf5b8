using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;
using Npgsql;

namespace FruitWatch.Store.Tests.Upgrade;

public sealed class PostgresUpgradeTests : IAsyncLifetime
{
    private readonly PostgresDatabase database = new();
    private readonly FakeClock clock = new(Instant.FromUtc(2026, 10, 5, 4, 12, 33));

    public async ValueTask InitializeAsync() => await database.CreateAsync();

    public ValueTask DisposeAsync() => database.DisposeAsync();

    [Fact]
    public async Task Three_servers_starting_at_once_make_one_store()
    {
        await Task.WhenAll(Enumerable.Range(0, 3).Select(_ => Task.Run(() => PrepareAsync(database.Options))));
        await using var store = new StoreFactory(database.Options).CreateDbContext();
        Assert.True(await StoreMigration.IsCurrentAsync(store));
        await PrepareAsync(database.Options);
        Assert.Equal(0, await store.Outbox.CountAsync());
    }

    [Fact]
    public async Task A_store_of_a_newer_program_is_refused()
    {
        await PrepareAsync(database.Options);
        await using var store = new StoreFactory(database.Options).CreateDbContext();
        await store.Database.ExecuteSqlRawAsync("INSERT INTO \"__EFMigrationsHistory\" VALUES ('29990101000000_Later', '99.0.0')");
        var refused = await Assert.ThrowsAsync<StoreException>(() => PrepareAsync(database.Options));
        Assert.Contains("newer FruitWatch (29990101000000_Later)", refused.Message, StringComparison.Ordinal);
        Assert.False(await StoreMigration.IsCurrentAsync(store));
    }

    [Fact]
    public async Task A_database_that_was_not_created_is_asked_for()
    {
        var options = database.Options;
        options.ConnectionString = new NpgsqlConnectionStringBuilder(options.ConnectionString) { Database = "fruitwatch_not_there" }.ToString();
        var refused = await Assert.ThrowsAsync<StoreException>(() => PrepareAsync(options));
        Assert.Contains("Create it first", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_refused_sign_in_is_told_as_such()
    {
        var options = database.Options;
        options.ConnectionString = new NpgsqlConnectionStringBuilder(options.ConnectionString) { Username = "nobody", Password = "wrong" }.ToString();
        var refused = await Assert.ThrowsAsync<StoreException>(() => PrepareAsync(options));
        Assert.StartsWith("PostgreSQL refused the sign-in", refused.Message, StringComparison.Ordinal);
    }

    private Task PrepareAsync(StoreOptions options) => StoreMigration.PrepareAsync(new StoreFactory(options), clock, NullLogger.Instance);
}
