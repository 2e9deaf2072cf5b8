using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Postgres;

/// <summary>The store in a PostgreSQL database, for several servers.</summary>
public sealed class PostgresStore(DbContextOptions<PostgresStore> options, Reach reach) : FruitWatchStore(options, reach);
