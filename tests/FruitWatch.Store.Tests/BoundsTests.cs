using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Store.Tests;

/// <summary>What a visitor's store shows of others. ASVS 5.0 8.2.2 and 8.4.1: data of one tenant is never another's.</summary>
public abstract class BoundsTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    /// <summary>Tables that belong to no cooperative; nothing of one may be written there.</summary>
    private static readonly Type[] s_ofTheService =
    [
        typeof(Account), typeof(IdentityUserClaim<long>), typeof(IdentityUserLogin<long>), typeof(IdentityUserToken<long>),
        typeof(IdentityUserPasskey<long>), typeof(SignInPace), typeof(FeedHost), typeof(Setting), typeof(DataProtectionKey),
    ];

    private static readonly FakeClock s_clock = new(Instant.FromUtc(2026, 10, 5, 4, 12));

    [Fact]
    public void Every_table_is_bounded_or_is_known_to_belong_to_the_service()
    {
        using var store = Open();
        var unbounded = store.Model.GetEntityTypes().Where(table => !table.IsOwned() && table.GetDeclaredQueryFilters().Count == 0).Select(table => table.ClrType);
        Assert.Equal(s_ofTheService.Select(type => type.Name).Order(), unbounded.Select(type => type.Name).Order());
    }

    [Fact]
    public async Task A_store_of_nobody_and_one_of_another_cooperative_show_no_row_of_any_table()
    {
        await using (var store = Open())
            await RoundTripTests<TDatabase>.WriteOneOfEachAsync(store);
        var stranger = await AddAsync(Role.Coordinator, "stranger@example.org", cooperative: null);

        foreach (var reach in new[] { new Reach(), For(stranger) })
        {
            await using var store = Factory.CreateDbContext(reach);
            foreach (var (table, rows) in await CountAsync(store))
                Assert.True(rows == 0 || s_ofTheService.Contains(table) || OwnOf(stranger, table, reach), $"{table.Name} shows {rows} rows");
        }

        await using var own = Factory.CreateDbContext(For(await IrisAsync()));
        Assert.All(await CountAsync(own), table => Assert.True(table.Rows > 0, $"{table.Table.Name} hides its row from its own coordinator"));
    }

    [Fact]
    public async Task A_grower_sees_own_beds_and_a_farm_hand_own_sites()
    {
        await using var all = Open();
        var (cooperative, feed, site, bed) = await AlderLane.FoundAsync(all);
        var elsewhere = AlderLane.Site(cooperative.Id, feed.Id);
        all.Add(elsewhere);
        await all.SaveChangesAsync();
        var (other, away) = (AlderLane.Bed(site.Id, "Oak 4"), AlderLane.Bed(elsewhere.Id, "Far"));
        all.AddRange(other, away);
        await all.SaveChangesAsync();
        all.AddRange(
            AlderLane.Entry(bed.Id, AlderLane.LeapDay, LocalTime.Noon), AlderLane.Entry(other.Id, AlderLane.LeapDay, LocalTime.Noon), AlderLane.Entry(away.Id, AlderLane.LeapDay, LocalTime.Noon),
            AlderLane.Notice(site.Id, bed.Id), AlderLane.Notice(site.Id, other.Id), AlderLane.Notice(elsewhere.Id, away.Id), AlderLane.Notice(elsewhere.Id, null, 2));
        await all.SaveChangesAsync();
        var grower = await AddAsync(Role.Grower, "grower@example.org", cooperative.Id, site.Id, bed.Id);
        var hand = await AddAsync(Role.FarmHand, "hand@example.org", cooperative.Id, site.Id);
        var viewer = await AddAsync(Role.Viewer, "viewer@example.org", cooperative.Id);

        Assert.Equal((1, 1, 1, 1), await SeenAsync(For(grower)));
        Assert.Equal((2, 3, 3, 4), await SeenAsync(For(grower, growersReadAll: true)));
        Assert.Equal((1, 2, 2, 2), await SeenAsync(For(hand, growersReadAll: true)));
        Assert.Equal((2, 3, 3, 4), await SeenAsync(For(viewer)));

        // Changing is bounded as reading is: a statement over all beds reaches those that are seen.
        await using var bounded = Factory.CreateDbContext(For(grower));
        Assert.Equal(1, await bounded.Beds.ExecuteUpdateAsync(set => set.SetProperty(row => row.Shade, 0.1)));

        async Task<(int Sites, int Beds, int Entries, int Notices)> SeenAsync(Reach reach)
        {
            await using var store = Factory.CreateDbContext(reach);
            return (await store.Sites.CountAsync(), await store.Beds.CountAsync(), await store.LogEntries.CountAsync(), await store.Notices.CountAsync());
        }
    }

    [Fact]
    public async Task A_row_of_another_cooperative_is_not_written_whatever_the_caller_mixed_up()
    {
        await using var all = Open();
        var (cooperative, feed, _, _) = await AlderLane.FoundAsync(all);
        var stranger = await AddAsync(Role.Coordinator, "stranger@example.org", cooperative: null);
        await using var store = Factory.CreateDbContext(For(stranger));
        store.Add(AlderLane.Site(cooperative.Id, feed.Id));
        await Assert.ThrowsAsync<InvalidOperationException>(() => store.SaveChangesAsync());
        Assert.Equal(1, await all.Sites.CountAsync());
    }

    [Fact]
    public async Task Whatever_a_member_changes_is_told_in_the_audit_and_texts_are_not()
    {
        await using var all = Open();
        var (cooperative, _, site, _) = await AlderLane.FoundAsync(all);
        var iris = await AddAsync(Role.Coordinator, "iris@example.org", cooperative.Id);
        await using (var store = Factory.CreateDbContext(For(iris)))
        {
            var row = await store.Sites.SingleAsync();
            (row.Name, row.Coastal, row.MorningAt) = ("Secret garden", !row.Coastal, new LocalTime(5, 0));
            store.Add(AlderLane.Bed(site.Id, "Oak 9"));
            await store.SaveChangesAsync();
        }

        var told = await all.Audit.AsNoTracking().OrderBy(entry => entry.Action).ToListAsync();
        Assert.Equal(["bed.made", "site.changed"], told.Select(entry => entry.Action));
        Assert.All(told, entry => Assert.Equal((cooperative.Id, iris.Id, "session", s_clock.GetCurrentInstant()), (entry.CooperativeId, entry.PersonId, entry.Via, entry.At)));
        Assert.Equal((await all.Beds.SingleAsync(bed => bed.Name == "Oak 9")).Id.ToString(System.Globalization.CultureInfo.InvariantCulture), told[0].SubjectId);
        Assert.Contains("\"coastal\":[\"True\",\"False\"]", told[1].Detail, StringComparison.Ordinal);
        Assert.Contains("\"name\":null", told[1].Detail, StringComparison.Ordinal);
        Assert.DoesNotContain("Secret", told[1].Detail, StringComparison.Ordinal);
    }

    private static Reach For(Person person, bool growersReadAll = false)
    {
        var reach = new Reach();
        reach.Open(person, growersReadAll, "session", s_clock);
        return reach;
    }

    // A cooperative sees itself and who is in it.
    private static bool OwnOf(Person person, Type table, Reach reach) =>
        reach.CooperativeId == person.CooperativeId && (table == typeof(Cooperative) || table == typeof(Person));

    private async Task<Person> IrisAsync()
    {
        await using var store = Open();
        return await store.People.SingleAsync(person => person.Name == "Iris" && person.AccountId != null);
    }

    private async Task<Person> AddAsync(Role role, string email, long? cooperative, long? site = null, long? bed = null)
    {
        await using var store = Open();
        if (cooperative is null)
        {
            var another = new Cooperative { Name = "Mill Field growers" };
            store.Add(another);
            await store.SaveChangesAsync();
            cooperative = another.Id;
        }

        var person = new Person { CooperativeId = cooperative.Value, Name = "Another", Email = email, Role = role };
        if (site is { } told)
            person.Sites.Add(new PersonSite { SiteId = told });
        if (bed is { } own)
            person.Beds.Add(new BedGrower { BedId = own });
        store.Add(person);
        await store.SaveChangesAsync();
        return person;
    }

    private static async Task<IReadOnlyList<(Type Table, int Rows)>> CountAsync(FruitWatchStore store)
    {
        var counts = new List<(Type, int)>();
        foreach (var table in store.Model.GetEntityTypes().Where(table => !table.IsOwned()))
        {
            var count = typeof(BoundsTests<TDatabase>).GetMethod(nameof(RowsAsync), System.Reflection.BindingFlags.NonPublic | System.Reflection.BindingFlags.Static)!
                .MakeGenericMethod(table.ClrType);
            counts.Add((table.ClrType, await (Task<int>)count.Invoke(null, [store])!));
        }

        return counts;
    }

    private static Task<int> RowsAsync<T>(FruitWatchStore store)
        where T : class => store.Set<T>().CountAsync();
}

public sealed class BoundsOnSqliteTests : BoundsTests<SqliteDatabase>;

public sealed class BoundsOnPostgresTests : BoundsTests<PostgresDatabase>;
