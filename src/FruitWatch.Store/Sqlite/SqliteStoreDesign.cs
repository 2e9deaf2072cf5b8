using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace FruitWatch.Store.Sqlite;

/// <summary>Lets the migration tool read the model; it opens no file.</summary>
internal sealed class SqliteStoreDesign : IDesignTimeDbContextFactory<SqliteStore>
{
    public SqliteStore CreateDbContext(string[] args) =>
        new(new DbContextOptionsBuilder<SqliteStore>().UseSqlite("Data Source=design.db").Options, Reach.Everything);
}
