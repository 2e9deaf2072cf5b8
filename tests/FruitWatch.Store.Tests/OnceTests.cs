using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class OnceTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    private long siteId;

    protected override async Task FillAsync()
    {
        await using var store = Open();
        siteId = (await AlderLane.FoundAsync(store)).Site.Id;
    }

    [Fact]
    public async Task The_round_of_a_site_and_day_is_taken_once()
    {
        await using var store = Open();
        Assert.True(await store.AddIfNewAsync(Morning(AlderLane.LeapDay)));
        Assert.False(await store.AddIfNewAsync(Morning(AlderLane.LeapDay)));
        Assert.True(await store.AddIfNewAsync(Morning(AlderLane.LeapDay.PlusDays(1))));
        Assert.Equal(2, await store.Mornings.CountAsync());
    }

    [Fact]
    public async Task A_duplicate_leaves_the_transaction_alive()
    {
        await using var store = Open();
        await store.AddIfNewAsync(AlderLane.Mail("digest:1", Now, Now));
        await store.AddIfNewAsync(Morning(AlderLane.LeapDay));

        await using (var transaction = await store.Database.BeginTransactionAsync())
        {
            Assert.False(await store.AddIfNewAsync(Morning(AlderLane.LeapDay)));
            Assert.False(await store.AddIfNewAsync(AlderLane.Mail("digest:1", Now, Now)));
            Assert.True(await store.AddIfNewAsync(AlderLane.Mail("digest:2", Now, Now)));
            await transaction.CommitAsync();
        }

        Assert.Equal(["digest:1", "digest:2"], await store.Outbox.OrderBy(mail => mail.Key).Select(mail => mail.Key).ToListAsync());
    }

    [Fact]
    public async Task A_round_that_is_rolled_back_can_be_taken_again()
    {
        await using (var store = Open())
        {
            await using var transaction = await store.Database.BeginTransactionAsync();
            Assert.True(await store.AddIfNewAsync(Morning(AlderLane.LeapDay)));
            Assert.True(await store.AddIfNewAsync(AlderLane.Mail("digest:1", Now, Now)));
        }

        await using var later = Open();
        Assert.Empty(await later.Outbox.ToListAsync());
        Assert.True(await later.AddIfNewAsync(Morning(AlderLane.LeapDay)));
    }

    [Fact]
    public async Task A_new_mail_is_given_its_key_and_keeps_all_that_was_written()
    {
        await using var store = Open();
        var mail = AlderLane.Mail("digest:{0}:@v1", Now, Now + Duration.FromHours(6));
        mail.Headers = """{"List-Unsubscribe":"<https://alder-lane.example/u/{0}>"}""";
        Assert.True(await store.AddIfNewAsync(mail));

        var kept = await store.Outbox.AsNoTracking().SingleAsync(row => row.Id == mail.Id);
        Assert.Equal(mail.Key, kept.Key);
        Assert.Equal(mail.Headers, kept.Headers);
        Assert.Equal(mail.NotAfter, kept.NotAfter);
        Assert.Equal(MailState.Pending, kept.State);
        Assert.Null(kept.PersonId);
    }

    [Fact]
    public async Task The_same_message_id_under_another_key_is_an_error_and_not_a_duplicate()
    {
        await using var store = Open();
        await store.AddIfNewAsync(AlderLane.Mail("digest:1", Now, Now));
        var other = AlderLane.Mail("digest:2", Now, Now);
        other.MessageId = "digest:1@alder-lane.example";
        await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(() => store.AddIfNewAsync(other));
    }

    [Fact]
    public async Task Of_eight_that_take_a_round_at_once_one_has_it()
    {
        var taken = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(async () =>
        {
            await using var store = Open();
            return await store.AddIfNewAsync(Morning(AlderLane.LeapDay));
        })));
        Assert.Equal(1, taken.Count(mine => mine));
    }

    private SiteMorning Morning(LocalDate on) => new() { SiteId = siteId, On = on, DoneAt = Now, FeedState = "fresh" };
}

public sealed class OnceOnSqliteTests : OnceTests<SqliteDatabase>;

public sealed class OnceOnPostgresTests : OnceTests<PostgresDatabase>;
