using FruitWatch.Store.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;

namespace FruitWatch.Store.Tests.Upgrade;

/// <summary>A SQLite store with two migrations of the tests' own: what an upgrade does can be tried whatever migrations there are.</summary>
internal static class TwoSteps
{
    public const string One = "20200101000000_One";
    public const string Two = "20200102000000_Two";

    public static SqliteStore Open(string file) => new(new DbContextOptionsBuilder<SqliteStore>()
        .UseSqlite($"Data Source={file}", sqlite => sqlite.MigrationsAssembly(typeof(TwoSteps).Assembly.GetName().Name))
        .ConfigureWarnings(warnings => warnings.Ignore(RelationalEventId.PendingModelChangesWarning))
        .Options, Reach.Everything);
}

[DbContext(typeof(SqliteStore))]
[Migration(TwoSteps.One)]
internal sealed class StepOne : Migration
{
    protected override void Up(MigrationBuilder migrationBuilder) =>
        migrationBuilder.Sql("CREATE TABLE Kept (Word TEXT NOT NULL); INSERT INTO Kept VALUES ('before');");
}

[DbContext(typeof(SqliteStore))]
[Migration(TwoSteps.Two)]
internal sealed class StepTwo : Migration
{
    protected override void Up(MigrationBuilder migrationBuilder) =>
        migrationBuilder.Sql("INSERT INTO Kept VALUES ('after');");
}
