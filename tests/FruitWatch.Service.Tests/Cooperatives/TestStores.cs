using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;
using Npgsql;

namespace FruitWatch.Service.Tests.Cooperatives;

/// <summary>An empty store of either database, gone after the test.</summary>
internal sealed class TestStores : IAsyncDisposable
{
    private const string Variable = "FRUITWATCH_TEST_POSTGRES";
    private readonly string? database;

    private TestStores(string folder, string? database, StoreOptions options) =>
        (Folder, this.database, Options, Factory) = (folder, database, options, new StoreFactory(options));

    /// <summary>A folder of its own, with the file where the store is one.</summary>
    public string Folder { get; }

    public StoreOptions Options { get; }

    public StoreFactory Factory { get; }

    public FakeClock Clock { get; } = new(Instant.FromUtc(2026, 10, 14, 6, 30));

    public static async Task<TestStores> OpenAsync(string provider)
    {
        var server = Environment.GetEnvironmentVariable(Variable);
        Assert.SkipWhen(provider == "postgres" && server is null, $"{Variable} names no PostgreSQL server; tests/postgres starts one.");
        var folder = Directory.CreateTempSubdirectory("fruitwatch-store-").FullName;
        TestStores stores;
        if (provider == "postgres")
        {
            var name = $"fruitwatch_test_{Guid.NewGuid():n}";
            await OnServerAsync($"CREATE DATABASE {name}");
            stores = new TestStores(
                folder, name, new StoreOptions { Provider = "postgres", ConnectionString = new NpgsqlConnectionStringBuilder(server) { Database = name }.ToString() });
        }
        else
        {
            stores = new TestStores(folder, null, new StoreOptions { DataFolder = folder });
        }

        await StoreMigration.PrepareAsync(stores.Factory, stores.Clock, NullLogger.Instance);
        return stores;
    }

    /// <summary>The JSON of an export.</summary>
    public async Task<string> ExportAsync(long cooperativeId)
    {
        var reach = new Reach();
        reach.Open(cooperativeId, "test", Clock);
        await using var store = Factory.CreateDbContext(reach);
        using var output = new MemoryStream();
        await CooperativeExport.WriteJsonAsync(store, output, default);
        return System.Text.Encoding.UTF8.GetString(output.ToArray());
    }

    public Task<Imported> ImportAsync(string json, string? name = null) =>
        new CooperativeImport(Factory, new WebhookKeys(new EphemeralDataProtectionProvider()), BedCatalogue.BuiltIn, new ServiceOptions(), Clock)
            .RunAsync(new MemoryStream(System.Text.Encoding.UTF8.GetBytes(json)), name, default);

    public async ValueTask DisposeAsync()
    {
        using (var store = Factory.CreateDbContext())
        {
            if (store.Database.GetDbConnection() is SqliteConnection file)
                SqliteConnection.ClearPool(file);
            else if (store.Database.GetDbConnection() is NpgsqlConnection server)
                NpgsqlConnection.ClearPool(server);
        }

        if (database is not null)
            await OnServerAsync($"DROP DATABASE IF EXISTS {database} WITH (FORCE)");
        Directory.Delete(Folder, recursive: true);
    }

    private static async Task OnServerAsync(string sql)
    {
        await using var connection = new NpgsqlConnection(Environment.GetEnvironmentVariable(Variable));
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }
}
