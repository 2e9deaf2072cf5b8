using FruitWatch.Store.Postgres;
using FruitWatch.Store.Sqlite;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace FruitWatch.Store;

/// <summary>Opens the store for one piece of work. One for the whole program; safe to use from any thread.</summary>
public sealed class StoreFactory : IDbContextFactory<FruitWatchStore>
{
    private const string FileName = "fruitwatch.db";
    private readonly Func<Reach, FruitWatchStore> open;

    /// <summary>For the store that the options name. Touches neither file nor server.</summary>
    /// <exception cref="StoreException">The options are incomplete or contradict each other.</exception>
    public StoreFactory(StoreOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        UpgradeWithin = options.UpgradeWithin;
        switch (options.Provider.Trim().ToLowerInvariant())
        {
            case "sqlite":
                var file = SqliteConnectionString(options);
                File = Path.GetFullPath(file.DataSource);
                var inFile = new DbContextOptionsBuilder<SqliteStore>().UseSqlite(file.ToString()).Options;
                open = reach => new SqliteStore(inFile, reach);
                break;
            case "postgres":
                var server = PostgresConnectionString(options);
                var onServer = new DbContextOptionsBuilder<PostgresStore>().UseNpgsql(server).Options;
                open = reach => new PostgresStore(onServer, reach);
                break;
            default:
                throw new StoreException($"Store:Provider is \"{options.Provider}\". Write sqlite or postgres.");
        }
    }

    /// <summary>Full path of the SQLite file; null on PostgreSQL.</summary>
    public string? File { get; }

    internal TimeSpan UpgradeWithin { get; }

    /// <summary>Everything of everybody: for the service's own rounds, which nobody asked for.</summary>
    public FruitWatchStore CreateDbContext() => open(Reach.Everything);

    /// <summary>What one visitor may see, and nothing before it is known who it is.</summary>
    public FruitWatchStore CreateDbContext(Reach reach) => open(reach);

    private static SqliteConnectionStringBuilder SqliteConnectionString(StoreOptions options)
    {
        if (string.IsNullOrWhiteSpace(options.ConnectionString) && string.IsNullOrWhiteSpace(options.DataFolder))
            throw new StoreException("Store:DataFolder is empty. Name the folder in which the SQLite file is to be kept.");
        var file = string.IsNullOrWhiteSpace(options.ConnectionString)
            ? new SqliteConnectionStringBuilder { DataSource = Path.Combine(options.DataFolder!, FileName) }
            : Read(options.ConnectionString, text => new SqliteConnectionStringBuilder(text));
        if (file.DataSource is "" or ":memory:" || file.Mode == SqliteOpenMode.Memory)
            throw new StoreException("Store:ConnectionString names no file. Write Data Source=/path/to/fruitwatch.db, or set Store:DataFolder.");
        file.ForeignKeys = true;

        // How long a writer waits for another one. Writers are short, so more than this is a fault and not a queue.
        if (!file.ShouldSerialize("Default Timeout")) file.DefaultTimeout = 10;
        return file;
    }

    private static string PostgresConnectionString(StoreOptions options)
    {
        if (string.IsNullOrWhiteSpace(options.ConnectionString))
            throw new StoreException("Store:ConnectionString is empty. PostgreSQL needs one, such as Host=localhost;Database=fruitwatch;Username=fruitwatch.");
        return Read(options.ConnectionString, text => new NpgsqlConnectionStringBuilder(text)).ToString();
    }

    // The text itself stays out of the message: it may hold a password.
    private static T Read<T>(string text, Func<string, T> read)
    {
        try
        {
            return read(text);
        }
        catch (Exception problem) when (problem is ArgumentException or FormatException or InvalidCastException or KeyNotFoundException)
        {
            throw new StoreException($"Store:ConnectionString cannot be read: {problem.Message}", problem);
        }
    }
}
