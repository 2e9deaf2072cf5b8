using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Store.Tests;

/// <summary>A fresh store for each test. Every class of tests runs on both databases.</summary>
public abstract class StoreTests<TDatabase> : IAsyncLifetime
    where TDatabase : TestDatabase, new()
{
    private readonly TDatabase database = new();

    protected static Instant Now { get; } = Instant.FromUtc(2026, 10, 5, 4, 12, 33);

    protected StoreFactory Factory { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        await database.CreateAsync();
        Factory = new StoreFactory(database.Options);
        await StoreMigration.PrepareAsync(Factory, new FakeClock(Now), NullLogger.Instance);
        await FillAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await database.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    protected virtual Task FillAsync() => Task.CompletedTask;

    protected FruitWatchStore Open() => Factory.CreateDbContext();
}
