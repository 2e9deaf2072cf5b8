using FruitWatch.Store.Postgres;
using FruitWatch.Store.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Store.Tests;

public sealed class StoreFactoryTests
{
    [Theory]
    [InlineData("mysql", "x", null, "Store:Provider is \"mysql\". Write sqlite or postgres.")]
    [InlineData("sqlite", null, null, "Store:DataFolder is empty")]
    [InlineData("sqlite", " ", "", "Store:DataFolder is empty")]
    [InlineData("sqlite", null, "Data Source=:memory:", "names no file")]
    [InlineData("sqlite", null, "Colour=green", "Store:ConnectionString cannot be read")]
    [InlineData("postgres", "x", null, "Store:ConnectionString is empty")]
    [InlineData("postgres", null, "Port=many", "Store:ConnectionString cannot be read")]
    public void What_is_wrong_with_the_options_is_told_in_a_sentence(string provider, string? folder, string? connection, string expected)
    {
        var refused = Assert.Throws<StoreException>(
            () => new StoreFactory(new StoreOptions { Provider = provider, DataFolder = folder, ConnectionString = connection }));
        Assert.Contains(expected, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wrong_connection_string_is_not_repeated_since_it_may_hold_a_password()
    {
        var refused = Assert.Throws<StoreException>(
            () => new StoreFactory(new StoreOptions { Provider = "postgres", ConnectionString = "Password=hunter2;Port=many" }));
        Assert.DoesNotContain("hunter2", refused.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_file_lies_in_the_data_folder()
    {
        var factory = new StoreFactory(new StoreOptions { DataFolder = "data" });
        Assert.Equal(Path.GetFullPath(Path.Combine("data", "fruitwatch.db")), factory.File);
        using var store = factory.CreateDbContext();
        Assert.IsType<SqliteStore>(store);
    }

    [Fact]
    public void A_program_may_name_its_own_file_and_waiting_time()
    {
        var factory = new StoreFactory(new StoreOptions { ConnectionString = "Data Source=own.db;Default Timeout=3" });
        using var store = factory.CreateDbContext();
        Assert.Equal(Path.GetFullPath("own.db"), factory.File);
        Assert.Contains("Default Timeout=3", store.Database.GetConnectionString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Each_request_has_a_store_of_its_own_and_the_rest_a_factory()
    {
        var services = new ServiceCollection().AddFruitWatchStore(
            new StoreOptions { Provider = "Postgres", ConnectionString = "Host=localhost;Database=fruitwatch" });
        using var provider = services.BuildServiceProvider(validateScopes: true);
        using var one = provider.CreateScope();
        using var two = provider.CreateScope();
        var store = one.ServiceProvider.GetRequiredService<FruitWatchStore>();
        Assert.IsType<PostgresStore>(store);
        Assert.Same(store, one.ServiceProvider.GetRequiredService<FruitWatchStore>());
        Assert.NotSame(store, two.ServiceProvider.GetRequiredService<FruitWatchStore>());
        Assert.Same(provider.GetRequiredService<StoreFactory>(), provider.GetRequiredService<IDbContextFactory<FruitWatchStore>>());
        Assert.Null(provider.GetRequiredService<StoreFactory>().File);
    }
}
