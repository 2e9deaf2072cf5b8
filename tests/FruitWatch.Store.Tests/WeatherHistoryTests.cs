using FruitWatch.Model.Weather;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class WeatherHistoryTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    private static readonly LocalDate First = new(2025, 12, 1);
    private static readonly Instant Later = Now + Duration.FromHours(1);
    private long siteId;
    private long feedId;

    protected override async Task FillAsync()
    {
        await using var store = Open();
        var (_, feed, site, _) = await AlderLane.FoundAsync(store);
        (siteId, feedId) = (site.Id, feed.Id);
    }

    [Fact]
    public async Task Merging_twice_leaves_what_merging_once_leaves()
    {
        // More days than one statement takes.
        var days = Enumerable.Range(0, 250).Select(i => AlderLane.Day(First.PlusDays(i), i % 7)).ToList();
        await using var store = Open();
        Assert.Equal(250, await MergeAsync(store, days, Now));
        var once = await LoadAsync(store);
        await MergeAsync(store, days, Now);
        Assert.Equal(days, once);
        Assert.Equal(days, await LoadAsync(store));
    }

    [Fact]
    public async Task The_later_fetch_has_the_last_word_on_a_value()
    {
        await using var store = Open();
        await MergeAsync(store, [AlderLane.Day(First, 0).From(Provenance.Forecast)], Now);
        await MergeAsync(store, [AlderLane.Day(First, 12.5)], Later);
        var day = Assert.Single(await LoadAsync(store));
        Assert.Equal((12.5, Provenance.Observed), (day.Rain, day.RainFrom));
        Assert.Equal(Later, (await store.Weather.SingleAsync()).FetchedAt);
    }

    [Fact]
    public async Task A_value_that_a_later_fetch_leaves_out_stays_with_its_provenance()
    {
        await using var store = Open();
        await MergeAsync(store, [AlderLane.Day(First, 12.5).From(Provenance.Estimated)], Now);
        await MergeAsync(store, [new WeatherDay(First, 25, null, null)], Later);
        Assert.Equal(
            AlderLane.Day(First, 12.5).From(Provenance.Estimated) with { Tmax = 25, TmaxFrom = Provenance.Observed },
            Assert.Single(await LoadAsync(store)));
    }

    [Fact]
    public async Task An_answer_that_comes_in_late_does_not_undo_a_newer_one()
    {
        await using var store = Open();
        await MergeAsync(store, [AlderLane.Day(First, 12.5)], Later);
        Assert.Equal(0, await MergeAsync(store, [AlderLane.Day(First, 3)], Now));
        Assert.Equal(12.5, Assert.Single(await LoadAsync(store)).Rain);
    }

    [Fact]
    public async Task A_day_given_twice_is_refused_by_its_date_and_nothing_is_written()
    {
        await using var store = Open();
        var refused = await Assert.ThrowsAsync<ArgumentException>(
            () => MergeAsync(store, [AlderLane.Day(First), AlderLane.Day(First.PlusDays(1)), AlderLane.Day(First)], Now));
        Assert.Contains(First.ToString(), refused.Message, StringComparison.Ordinal);
        Assert.Empty(await LoadAsync(store));
    }

    [Fact]
    public async Task All_days_are_written_or_none()
    {
        await using var store = Open();
        var tooMany = Enumerable.Range(0, 150).Select(i => AlderLane.Day(First.PlusDays(i))).ToList();
        await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(
            () => store.MergeWeatherAsync(siteId, feedId + 1, tooMany, Now, Now));
        Assert.Equal(0, await MergeAsync(store, [], Now));
        Assert.Empty(await LoadAsync(store));
    }

    [Fact]
    public async Task Days_are_merged_within_a_transaction_of_the_caller()
    {
        await using (var store = Open())
        {
            await using var transaction = await store.Database.BeginTransactionAsync();
            await MergeAsync(store, [AlderLane.Day(First)], Now);
        }

        await using var later = Open();
        Assert.Empty(await LoadAsync(later));
    }

    [Fact]
    public async Task Days_are_loaded_from_the_first_to_the_last_included_by_site()
    {
        await using var store = Open();
        await MergeAsync(store, [.. Enumerable.Range(0, 10).Reverse().Select(i => AlderLane.Day(First.PlusDays(i)))], Now);
        var bySite = await store.LoadWeatherAsync([siteId, siteId + 1], First.PlusDays(2), First.PlusDays(4));
        Assert.Equal([First.PlusDays(2), First.PlusDays(3), First.PlusDays(4)], bySite[siteId].Select(day => day.Date));
        Assert.Empty(bySite[siteId + 1]);
    }

    private Task<int> MergeAsync(FruitWatchStore store, IReadOnlyList<WeatherDay> days, Instant fetchedAt) =>
        store.MergeWeatherAsync(siteId, feedId, days, Now, fetchedAt);

    private async Task<List<WeatherDay>> LoadAsync(FruitWatchStore store) =>
        [.. (await store.LoadWeatherAsync([siteId], First, First.PlusYears(2)))[siteId].Select(day => day.ToDay())];
}

public sealed class WeatherHistoryOnSqliteTests : WeatherHistoryTests<SqliteDatabase>;

public sealed class WeatherHistoryOnPostgresTests : WeatherHistoryTests<PostgresDatabase>;
