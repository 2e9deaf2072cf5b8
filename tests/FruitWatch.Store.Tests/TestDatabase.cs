using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace FruitWatch.Store.Tests;

/// <summary>An empty place for a store, gone after the test.</summary>
public abstract class TestDatabase : IAsyncDisposable
{
    public abstract StoreOptions Options { get; }

    public virtual Task CreateAsync() => Task.CompletedTask;

    public abstract ValueTask DisposeAsync();
}

/// <summary>A SQLite file in a temporary folder.</summary>
public sealed class SqliteDatabase : TestDatabase
{
    public string Folder { get; } = Directory.CreateTempSubdirectory("fruitwatch-store-").FullName;

    public override StoreOptions Options => new() { DataFolder = Folder };

    public override ValueTask DisposeAsync()
    {
        using (var store = new StoreFactory(Options).CreateDbContext())
            SqliteConnection.ClearPool((SqliteConnection)store.Database.GetDbConnection());
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
        return ValueTask.CompletedTask;
    }
}

/// <summary>A database of its own on the server that <c>FRUITWATCH_TEST_POSTGRES</c> names; without one the test is skipped.</summary>
public sealed class PostgresDatabase : TestDatabase
{
    private const string Variable = "FRUITWATCH_TEST_POSTGRES";
    private readonly string name = $"fruitwatch_test_{Guid.NewGuid():n}";
    private readonly string? server = Environment.GetEnvironmentVariable(Variable);

    public override StoreOptions Options => new()
    {
        Provider = "postgres",
        ConnectionString = new NpgsqlConnectionStringBuilder(server) { Database = name }.ToString(),
    };

    public override async Task CreateAsync()
    {
        Assert.SkipWhen(server is null, $"{Variable} names no PostgreSQL server; tests/postgres starts one.");
        await OnServerAsync($"CREATE DATABASE {name}");
    }

    public override async ValueTask DisposeAsync()
    {
        if (server is null) return;
        using (var store = new StoreFactory(Options).CreateDbContext())
            NpgsqlConnection.ClearPool((NpgsqlConnection)store.Database.GetDbConnection());
        await OnServerAsync($"DROP DATABASE IF EXISTS {name} WITH (FORCE)");
        GC.SuppressFinalize(this);
    }

    private async Task OnServerAsync(string sql)
    {
        await using var connection = new NpgsqlConnection(server);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }
}
