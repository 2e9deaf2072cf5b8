using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class KeepingTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    [Fact]
    public async Task Of_two_edits_of_the_same_state_the_second_is_refused()
    {
        await using var one = Open();
        var (_, _, site, _) = await AlderLane.FoundAsync(one);
        await using var two = Open();
        var same = await two.Sites.SingleAsync();

        site.Name = "Alder Lane, top";
        await one.SaveChangesAsync();
        same.Name = "Alder Lane, bottom";
        await Assert.ThrowsAsync<DbUpdateConcurrencyException>(() => two.SaveChangesAsync());
        await Assert.ThrowsAsync<DbUpdateConcurrencyException>(() => two.SaveChangesAsync());

        await using var reading = Open();
        var kept = await reading.Sites.SingleAsync();
        Assert.Equal(("Alder Lane, top", 2), (kept.Name, kept.Version));
    }

    [Fact]
    public async Task An_edit_made_from_an_older_page_is_refused()
    {
        await using var store = Open();
        var (_, _, site, _) = await AlderLane.FoundAsync(store);
        site.Elevation += 1;
        store.Entry(site).Property(row => row.Version).OriginalValue = 7;
        await Assert.ThrowsAsync<DbUpdateConcurrencyException>(() => store.SaveChangesAsync());
    }

    [Fact]
    public async Task Saving_without_a_change_leaves_the_version()
    {
        await using var store = Open();
        var (_, _, site, _) = await AlderLane.FoundAsync(store);
        await store.SaveChangesAsync();
        Assert.Equal(1, site.Version);
    }

    [Fact]
    public async Task An_address_is_taken_once_in_a_cooperative_however_it_is_written()
    {
        await using var store = Open();
        var (cooperative, _, _, _) = await AlderLane.FoundAsync(store);
        store.Add(AlderLane.Person(cooperative.Id, " Iris@Example.org "));
        await store.SaveChangesAsync();
        Assert.Equal("iris@example.org", (await store.People.SingleAsync()).EmailNormalized);

        store.Add(AlderLane.Person(cooperative.Id, "IRIS@EXAMPLE.ORG"));
        await Assert.ThrowsAsync<DbUpdateException>(() => store.SaveChangesAsync());
    }

    [Fact]
    public async Task An_address_that_is_changed_is_compared_in_its_new_form()
    {
        await using var store = Open();
        var (cooperative, _, _, _) = await AlderLane.FoundAsync(store);
        var iris = AlderLane.Person(cooperative.Id);
        store.Add(iris);
        await store.SaveChangesAsync();
        iris.Email = "Fern@Example.org";
        await store.SaveChangesAsync();
        Assert.Equal(1, await store.People.CountAsync(person => person.EmailNormalized == "fern@example.org"));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task An_episode_of_a_bed_or_of_a_whole_site_is_issued_once(bool ofBed)
    {
        await using var store = Open();
        var (_, _, site, bed) = await AlderLane.FoundAsync(store);
        long? bedId = ofBed ? bed.Id : null;
        store.AddRange(AlderLane.Notice(site.Id, bedId, 1), AlderLane.Notice(site.Id, bedId, 2), AlderLane.Notice(site.Id, ofBed ? null : bed.Id, 1));
        await store.SaveChangesAsync();

        store.Add(AlderLane.Notice(site.Id, bedId, 2));
        await Assert.ThrowsAsync<DbUpdateException>(() => store.SaveChangesAsync());
    }

    [Fact]
    public async Task A_bed_with_a_log_cannot_be_deleted_along_with_its_history()
    {
        await using var store = Open();
        var (_, _, _, bed) = await AlderLane.FoundAsync(store);
        store.Add(AlderLane.Entry(bed.Id, AlderLane.LeapDay, LocalTime.Noon));
        await store.SaveChangesAsync();

        await using var deleting = Open();
        await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(() => deleting.Beds.Where(row => row.Id == bed.Id).ExecuteDeleteAsync());
        Assert.Equal(1, await deleting.LogEntries.CountAsync());
    }

    [Fact]
    public async Task A_forecast_that_says_nothing_new_is_not_kept_again()
    {
        await using var store = Open();
        var (_, feed, site, _) = await AlderLane.FoundAsync(store);
        var first = await store.KeepForecastAsync(AlderLane.Forecast(site.Id, feed.Id));

        var again = AlderLane.Forecast(site.Id, feed.Id);
        again.FetchedAt += Duration.FromHours(1);
        Assert.Equal(first.Id, (await store.KeepForecastAsync(again)).Id);

        var changed = AlderLane.Forecast(site.Id, feed.Id, "[[22.0,9.25,4.2]]");
        changed.FetchedAt += Duration.FromHours(2);
        Assert.NotEqual(first.Id, (await store.KeepForecastAsync(changed)).Id);

        // Back to what was said before: news again, since something else was said between.
        var back = AlderLane.Forecast(site.Id, feed.Id);
        back.FetchedAt += Duration.FromHours(3);
        await store.KeepForecastAsync(back);
        Assert.Equal(3, await store.Forecasts.CountAsync());
    }
}

public sealed class KeepingOnSqliteTests : KeepingTests<SqliteDatabase>;

public sealed class KeepingOnPostgresTests : KeepingTests<PostgresDatabase>;
