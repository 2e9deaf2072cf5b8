using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Store.Tests.Upgrade;

public sealed class ModelTests
{
    private static readonly StoreOptions Sqlite = new() { DataFolder = "nowhere" };
    private static readonly StoreOptions Postgres = new() { Provider = "postgres", ConnectionString = "Host=127.0.0.1;Port=1;Database=fruitwatch;Timeout=5" };

    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public void No_change_of_the_model_is_without_its_migration(string provider)
    {
        using var store = Open(provider);
        Assert.NotEmpty(store.Database.GetMigrations());
        Assert.False(store.Database.HasPendingModelChanges(), "Add a migration: dotnet ef migrations add … for both contexts.");
    }

    [Fact]
    public void Both_databases_have_the_same_tables_and_columns()
    {
        using var inFile = Open("sqlite");
        using var onServer = Open("postgres");
        Assert.Equal(Columns(inFile), Columns(onServer));
    }

    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public void No_column_is_of_a_kind_that_SQLite_cannot_order(string provider)
    {
        // learn.microsoft.com/ef/core/providers/sqlite/limitations: these can be stored but not compared.
        Type[] unordered = [typeof(DateTimeOffset), typeof(decimal), typeof(TimeSpan), typeof(ulong)];
        using var store = Open(provider);
        var kept = store.Model.GetEntityTypes().Where(table => !table.IsOwned()).SelectMany(table => table.GetProperties())
            .Select(column => Nullable.GetUnderlyingType(column.GetProviderClrType() ?? column.ClrType) ?? column.GetProviderClrType() ?? column.ClrType);
        Assert.DoesNotContain(kept, unordered.Contains);
    }

    [Fact]
    public async Task A_server_that_does_not_answer_is_told_in_a_sentence()
    {
        var clock = new FakeClock(Instant.FromUtc(2026, 10, 5, 4, 12));
        var refused = await Assert.ThrowsAsync<StoreException>(
            () => StoreMigration.PrepareAsync(new StoreFactory(Postgres), clock, NullLogger.Instance));
        Assert.StartsWith("PostgreSQL does not answer", refused.Message, StringComparison.Ordinal);
    }

    private static FruitWatchStore Open(string provider) =>
        new StoreFactory(provider == "sqlite" ? Sqlite : Postgres).CreateDbContext();

    private static IEnumerable<string> Columns(FruitWatchStore store) =>
        store.Model.GetEntityTypes().SelectMany(table => table.GetProperties()
            .Select(column => $"{table.GetTableName()}.{column.GetColumnName()} {(column.IsNullable ? "null" : "not null")}")).Order();
}
