using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace FruitWatch.Store.Postgres;

/// <summary>Lets the migration tool read the model; it connects to no server.</summary>
internal sealed class PostgresStoreDesign : IDesignTimeDbContextFactory<PostgresStore>
{
    public PostgresStore CreateDbContext(string[] args) =>
        new(new DbContextOptionsBuilder<PostgresStore>().UseNpgsql("Host=design").Options, Reach.Everything);
}
