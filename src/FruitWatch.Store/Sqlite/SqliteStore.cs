using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Sqlite;

/// <summary>The store in one SQLite file.</summary>
public sealed class SqliteStore(DbContextOptions<SqliteStore> options, Reach reach) : FruitWatchStore(options, reach);
