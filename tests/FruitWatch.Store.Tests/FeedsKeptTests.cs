using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class FeedsKeptTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    private long siteId;
    private long feedId;

    protected override async Task FillAsync()
    {
        await using var store = Open();
        var found = await AlderLane.FoundAsync(store);
        (siteId, feedId) = (found.Site.Id, found.Feed.Id);
    }

    [Fact]
    public async Task An_answer_replaces_an_earlier_one_of_its_place_and_never_a_later_one()
    {
        await using var store = Open();
        await store.KeepAnswerAsync(Answer("a", [1], Now));
        await store.KeepAnswerAsync(Answer("b", [2], Now));
        await store.KeepAnswerAsync(Answer("a", null, Now + Duration.FromHours(1)));
        await store.KeepAnswerAsync(Answer("a", [3], Now - Duration.FromHours(1)));

        var kept = await store.FeedAnswers.AsNoTracking().OrderBy(row => row.Place).ToListAsync();
        Assert.Equal(["a", "b"], kept.Select(row => row.Place));
        Assert.Null(kept[0].Body);
        Assert.Equal(Now + Duration.FromHours(1), kept[0].CheckedAt);
        Assert.Equal([2], kept[1].Body!);
    }

    [Fact]
    public async Task Of_two_accounts_of_a_host_the_later_counts()
    {
        await using var store = Open();
        await store.KeepHostsAsync([Host("https://a", 1, Now), Host("https://b", 1, Now)]);
        await store.KeepHostsAsync([Host("https://a", 2, Now + Duration.FromSeconds(1)), Host("https://b", 0, Now - Duration.FromSeconds(1))]);
        Assert.Equal([2, 1], await store.FeedHosts.AsNoTracking().OrderBy(host => host.Authority).Select(host => host.FailuresInARow).ToListAsync());
    }

    [Fact]
    public async Task What_a_person_said_of_a_feed_stays_when_it_is_tried_again()
    {
        await using var store = Open();
        await store.KeepToldAsync(Told(Now, "net.unreachable"));
        await store.SiteFeeds.ExecuteUpdateAsync(set => set
            .SetProperty(row => row.UnitsConfirmed, 4).SetProperty(row => row.SilenceToldAt, Now));
        await store.KeepToldAsync(Told(Now + Duration.FromHours(1), "net.tls"));

        var row = await store.SiteFeeds.AsNoTracking().SingleAsync();
        Assert.Equal((Now, "net.tls", 4, Now), (row.FirstTriedAt, row.ProblemCode, row.UnitsConfirmed, row.SilenceToldAt));
        await store.KeepToldAsync(Told(Now + Duration.FromHours(2), null));
        row = await store.SiteFeeds.AsNoTracking().SingleAsync();
        Assert.Equal((null, null, 4), (row.ProblemCode, row.SilenceToldAt, row.UnitsConfirmed));
    }

    [Fact]
    public async Task A_backfill_is_leased_to_one_and_to_another_when_the_lease_is_over()
    {
        await using var store = Open();
        var fill = Fill();
        Assert.True(await store.AddIfNewAsync(fill));
        Assert.False(await store.AddIfNewAsync(Fill()));
        Assert.True(await store.LeaseAsync(fill, Now, Duration.FromMinutes(5)));
        Assert.False(await store.LeaseAsync(fill, Now + Duration.FromMinutes(4), Duration.FromMinutes(5)));
        Assert.True(await store.LeaseAsync(fill, Now + Duration.FromMinutes(5), Duration.FromMinutes(5)));
    }

    [Fact]
    public async Task Progress_counts_only_from_where_the_backfill_stands_and_does_not_undo_a_halt()
    {
        await using var store = Open();
        await store.AddIfNewAsync(Fill());
        var to = Fill();
        to.Next = to.Next.PlusDays(-365);
        to.DaysKept = 365;
        await store.Backfills.ExecuteUpdateAsync(set => set.SetProperty(row => row.State, BackfillState.Halted));
        Assert.True(await store.AdvanceAsync(Fill(), to));
        Assert.False(await store.AdvanceAsync(Fill(), to));

        var row = await store.Backfills.AsNoTracking().SingleAsync();
        Assert.Equal((BackfillState.Halted, 365, to.Next), (row.State, row.DaysKept, row.Next));
        Assert.Null(row.LeaseUntil);
    }

    [Fact]
    public async Task A_backfill_is_due_while_it_runs_and_nobody_works_at_it()
    {
        await using var store = Open();
        await store.AddIfNewAsync(Fill());
        Assert.Empty(await store.DueBackfillsAsync(Now - Duration.FromSeconds(1)));
        var due = Assert.Single(await store.DueBackfillsAsync(Now));
        Assert.Equal((siteId, feedId), (due.Site.Id, due.Feed.Id));
        Assert.Null(due.Told);
        await store.KeepToldAsync(Told(Now, null));
        Assert.NotNull(Assert.Single(await store.DueBackfillsAsync(Now)).Told);
        await store.LeaseAsync(due.Backfill, Now, Duration.FromMinutes(5));
        Assert.Empty(await store.DueBackfillsAsync(Now));
    }

    [Fact]
    public async Task A_feed_is_silent_from_its_last_good_answer_or_its_first_try_until_somebody_was_told()
    {
        await using var store = Open();
        var told = Told(Now, null);
        await store.KeepToldAsync(told);
        Assert.False(await store.AnySilentAsync(Now));
        told.ProblemCode = "net.tls";
        await store.KeepToldAsync(told);
        Assert.True(await store.AnySilentAsync(Now));
        told.LastGoodAt = Now + Duration.FromHours(1);
        await store.KeepToldAsync(told);
        Assert.False(await store.AnySilentAsync(Now));
        Assert.True(await store.AnySilentAsync(Now + Duration.FromHours(1)));
        await store.SiteFeeds.ExecuteUpdateAsync(set => set.SetProperty(row => row.SilenceToldAt, Now));
        Assert.False(await store.AnySilentAsync(Now + Duration.FromHours(1)));
    }

    private FeedAnswer Answer(string place, byte[]? body, Instant at) => new()
    {
        FeedId = feedId,
        Place = place,
        Asked = place,
        MediaType = "text/csv",
        Body = body,
        FetchedAt = at,
        CheckedAt = at,
    };

    private static FeedHost Host(string authority, int failures, Instant at) => new() { Authority = authority, FailuresInARow = failures, ChangedAt = at };

    private SiteFeed Told(Instant at, string? problem) =>
        new() { SiteId = siteId, FeedId = feedId, FirstTriedAt = at, LastTriedAt = at, NextTryAt = at, ProblemCode = problem };

    private Backfill Fill() => new()
    {
        SiteId = siteId,
        FeedId = feedId,
        First = AlderLane.LeapDay.PlusYears(-10),
        Last = AlderLane.LeapDay,
        Next = AlderLane.LeapDay,
        NextTryAt = Now,
        StartedAt = Now,
    };
}

public sealed class FeedsKeptOnSqliteTests : FeedsKeptTests<SqliteDatabase>;

public sealed class FeedsKeptOnPostgresTests : FeedsKeptTests<PostgresDatabase>;
