using System.Diagnostics;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class SiteDataTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    private long cooperativeId;
    private long feedId;
    private Site site = null!;
    private Bed bed = null!;

    protected override async Task FillAsync()
    {
        await using var store = Open();
        (var cooperative, var feed, site, bed) = await AlderLane.FoundAsync(store);
        (cooperativeId, feedId) = (cooperative.Id, feed.Id);
    }

    [Fact]
    public async Task A_site_comes_with_its_watched_beds_their_layers_and_their_log()
    {
        await using (var store = Open())
        {
            var retired = AlderLane.Bed(site.Id, "Path");
            retired.RetiredOn = AlderLane.LeapDay;
            var second = AlderLane.Bed(site.Id, "Plum 1");
            second.Layers.AddRange([Layer("straw", 0.1), Layer("hardwood-chips", 0.2), Layer("leaves", 0.05)]);
            store.AddRange(retired, second);
            await store.SaveChangesAsync();
            store.Add(AlderLane.Entry(second.Id, AlderLane.LeapDay, LocalTime.Noon));
            await store.SaveChangesAsync();
        }

        await using var reading = Open();
        var loaded = Assert.Single(await SiteData.LoadAsync(reading, [site.Id]));
        Assert.Equal(site.Name, loaded.Site.Name);
        Assert.Equal(["Oak 3", "Plum 1"], loaded.Beds.Select(data => data.Bed.Name));
        Assert.Equal(["hardwood-chips"], loaded.Beds[0].Bed.Layers.Select(layer => layer.MaterialKey));
        Assert.Equal(["straw", "hardwood-chips", "leaves"], loaded.Beds[1].Bed.Layers.Select(layer => layer.MaterialKey));
        Assert.Empty(loaded.Beds[0].Log);
        Assert.Single(loaded.Beds[1].Log);
    }

    [Fact]
    public async Task The_log_is_in_the_order_in_which_it_acts_without_what_was_undone()
    {
        var (day, noon) = (AlderLane.LeapDay, LocalTime.Noon);
        await using (var store = Open())
        {
            foreach (var (kind, on, at) in new[]
            {
                ("last", day.PlusDays(1), LocalTime.Midnight), ("second", day, noon), ("third", day, noon), ("undone", day, noon), ("first", day, new LocalTime(6, 0)),
            })
            {
                var entry = AlderLane.Entry(bed.Id, on, at, kind);
                if (kind == "undone") entry.UndoneAt = Now;
                store.Add(entry);
                await store.SaveChangesAsync();
            }
        }

        await using var reading = Open();
        var loaded = Assert.Single(await SiteData.LoadAsync(reading, [site.Id]));
        Assert.Equal(["first", "second", "third", "last"], Assert.Single(loaded.Beds).Log.Select(entry => entry.Kind));
    }

    [Fact]
    public async Task Any_number_of_sites_takes_four_queries()
    {
        List<long> ids;
        await using (var store = Open())
        {
            for (var i = 0; i < 20; i++)
            {
                var another = AlderLane.Site(cooperativeId, feedId);
                another.Beds.AddRange([AlderLane.Bed(0, "A"), AlderLane.Bed(0, "B")]);
                store.Add(another);
            }

            await store.SaveChangesAsync();
            ids = await store.Sites.Select(row => row.Id).ToListAsync();
        }

        await using var reading = Open();
        using var queries = new QueryCount(reading);
        var loaded = await SiteData.LoadAsync(reading, ids);
        Assert.Equal(21, loaded.Count);
        Assert.Equal(41, loaded.Sum(data => data.Beds.Count));
        Assert.Equal(4, queries.Count);
    }

    [Fact]
    public async Task A_site_that_is_not_there_is_left_out()
    {
        await using var store = Open();
        Assert.Empty(await SiteData.LoadAsync(store, []));
        Assert.Equal([site.Id], (await SiteData.LoadAsync(store, [site.Id + 1000, site.Id])).Select(data => data.Site.Id));
    }

    private static BedLayer Layer(string material, double depth) => new() { MaterialKey = material, Depth = depth, LaidOn = AlderLane.LeapDay };

    /// <summary>Counts the commands of one context.</summary>
    private sealed class QueryCount : IObserver<DiagnosticListener>, IObserver<KeyValuePair<string, object?>>, IDisposable
    {
        private readonly FruitWatchStore store;
        private readonly List<IDisposable> subscriptions = [];

        public QueryCount(FruitWatchStore store)
        {
            this.store = store;
            subscriptions.Add(DiagnosticListener.AllListeners.Subscribe(this));
        }

        public int Count { get; private set; }

        public void OnNext(DiagnosticListener value)
        {
            if (value.Name == DbLoggerCategory.Name) subscriptions.Add(value.Subscribe(this));
        }

        public void OnNext(KeyValuePair<string, object?> value)
        {
            if (value.Value is CommandExecutedEventData executed && executed.Context == store) Count++;
        }

        public void OnCompleted()
        {
        }

        public void OnError(Exception error)
        {
        }

        public void Dispose() => subscriptions.ForEach(subscription => subscription.Dispose());
    }
}

public sealed class SiteDataOnSqliteTests : SiteDataTests<SqliteDatabase>;

public sealed class SiteDataOnPostgresTests : SiteDataTests<PostgresDatabase>;
