using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class OutboxTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    private static readonly Duration Lease = Duration.FromMinutes(2);
    private static readonly Instant Noon = Now + Duration.FromHours(6);

    [Fact]
    public async Task Eight_senders_at_once_claim_every_mail_exactly_once()
    {
        await using (var store = Open())
        {
            store.AddRange(Enumerable.Range(0, 200).Select(i => AlderLane.Mail($"digest:{i}", Now, Noon)));
            await store.SaveChangesAsync();
        }

        var claimed = await Task.WhenAll(Enumerable.Range(0, 8).Select(sender => Task.Run(() => ClaimAllAsync($"sender-{sender}"))));

        Assert.Equal(200, claimed.Sum(mails => mails.Count));
        Assert.Equal(200, claimed.SelectMany(mails => mails).Select(mail => mail.Id).Distinct().Count());
    }

    [Fact]
    public async Task The_first_to_run_out_of_time_is_claimed_first()
    {
        await WriteAsync(("later", Now, Noon + Duration.FromHours(1)), ("sooner", Now, Noon), ("soonest", Now, Now + Duration.FromMinutes(1)));
        Assert.Equal(["soonest", "sooner"], await ClaimAsync("a", Now, 2));
        Assert.Equal(["later"], await ClaimAsync("a", Now, 2));
    }

    [Fact]
    public async Task A_mail_is_not_claimed_before_its_time_nor_after_it()
    {
        await WriteAsync(("early", Now + Duration.FromSeconds(1), Noon), ("due", Now, Noon), ("past", Now, Now));
        Assert.Equal(["due"], await ClaimAsync("a", Now));
        Assert.Equal(["early"], await ClaimAsync("a", Now + Duration.FromSeconds(1)));
    }

    [Fact]
    public async Task A_claim_says_who_until_when_and_counts_the_attempt()
    {
        await WriteAsync(("due", Now, Noon));
        await using var store = Open();
        var mail = Assert.Single(await Outbox.ClaimAsync(store, "a", Now, Lease, 5));
        Assert.Equal((MailState.Sending, "a", Now + Lease, 1), (mail.State, mail.Owner, mail.LeaseUntil, mail.Attempts));
        Assert.Equal("due@alder-lane.example", mail.MessageId);
    }

    [Fact]
    public async Task A_mail_of_a_sender_that_died_comes_back_when_its_claim_is_over()
    {
        await WriteAsync(("due", Now, Noon));
        Assert.Equal(["due"], await ClaimAsync("died", Now));
        Assert.Empty(await ClaimAsync("b", Now + Lease - Duration.FromMilliseconds(1)));
        Assert.Equal(["due"], await ClaimAsync("b", Now + Lease));
        Assert.Equal(2, (await ReadAsync("due")).Attempts);
    }

    [Fact]
    public async Task A_claim_that_is_extended_holds_longer_and_one_that_was_lost_stays_lost()
    {
        await WriteAsync(("due", Now, Noon));
        await ClaimAsync("a", Now);
        await using var store = Open();
        Assert.Equal(1, await Outbox.ExtendAsync(store, "a", Now + Duration.FromMinutes(1), Lease));
        Assert.Empty(await ClaimAsync("b", Now + Lease));
        Assert.Equal(["due"], await ClaimAsync("b", Now + Duration.FromMinutes(3)));
        Assert.Equal(0, await Outbox.ExtendAsync(store, "a", Now + Duration.FromMinutes(3), Lease));
    }

    [Fact]
    public async Task A_mail_given_back_is_free_at_once_and_the_attempt_does_not_count()
    {
        await WriteAsync(("begun", Now, Noon), ("waiting", Now, Noon));
        await ClaimAsync("a", Now);
        await using var store = Open();
        var waiting = (await ReadAsync("waiting")).Id;
        Assert.Equal(0, await Outbox.ReleaseAsync(store, "b", [waiting]));
        Assert.Equal(1, await Outbox.ReleaseAsync(store, "a", [waiting]));
        Assert.Equal(0, (await ReadAsync("waiting")).Attempts);
        Assert.Equal(["waiting"], await ClaimAsync("b", Now));
    }

    [Fact]
    public async Task A_sent_mail_is_never_claimed_again()
    {
        await WriteAsync(("due", Now, Noon));
        await ClaimAsync("a", Now);
        await using var store = Open();
        var id = (await ReadAsync("due")).Id;
        Assert.True(await Outbox.MarkSentAsync(store, id, Now));
        Assert.False(await Outbox.MarkSentAsync(store, id, Now + Lease));
        Assert.Empty(await ClaimAsync("b", Now + Lease));
        var sent = await ReadAsync("due");
        Assert.Equal((MailState.Sent, Now, null, null), (sent.State, sent.SentAt, sent.Owner, sent.LeaseUntil));
    }

    [Fact]
    public async Task Sending_is_recorded_even_when_the_claim_was_lost_meanwhile()
    {
        await WriteAsync(("slow", Now, Noon));
        await ClaimAsync("a", Now);
        await ClaimAsync("b", Now + Lease);
        await using var store = Open();
        var id = (await ReadAsync("slow")).Id;
        Assert.False(await Outbox.RetryAsync(store, id, "a", Now, "451 later"));
        Assert.False(await Outbox.FailAsync(store, id, "a", "550 no such box"));
        Assert.False(await Outbox.MarkUnconfirmedAsync(store, id, "a", Now, "broken off"));
        Assert.Equal(MailState.Sending, (await ReadAsync("slow")).State);
        Assert.True(await Outbox.MarkSentAsync(store, id, Now + Lease));
        Assert.False(await Outbox.RetryAsync(store, id, "b", Now, "451 later"));
        Assert.Equal(MailState.Sent, (await ReadAsync("slow")).State);
    }

    [Fact]
    public async Task A_mail_put_off_waits_for_its_next_try()
    {
        await WriteAsync(("due", Now, Noon));
        await ClaimAsync("a", Now);
        await using var store = Open();
        var next = Now + Duration.FromMinutes(5);
        Assert.True(await Outbox.RetryAsync(store, (await ReadAsync("due")).Id, "a", next, "451 later"));
        Assert.Equal("451 later", (await ReadAsync("due")).LastError);
        Assert.Empty(await ClaimAsync("a", Now + Duration.FromMinutes(4)));
        Assert.Equal(["due"], await ClaimAsync("a", next));
    }

    [Fact]
    public async Task A_refused_or_unconfirmed_mail_is_not_tried_again_and_keeps_its_time()
    {
        await WriteAsync(("refused", Now, Noon), ("broken", Now, Noon));
        await ClaimAsync("a", Now);
        await using var store = Open();
        Assert.True(await Outbox.FailAsync(store, (await ReadAsync("refused")).Id, "a", "550 no such box"));
        Assert.True(await Outbox.MarkUnconfirmedAsync(store, (await ReadAsync("broken")).Id, "a", Now, "broken off after DATA"));
        Assert.Empty(await ClaimAsync("a", Now + Lease));
        var (refused, broken) = (await ReadAsync("refused"), await ReadAsync("broken"));
        Assert.Equal((MailState.Failed, "550 no such box", null, Now), (refused.State, refused.LastError, refused.SentAt, refused.NextTryAt));
        Assert.Equal((MailState.Unconfirmed, Now, Now), (broken.State, broken.SentAt, broken.NextTryAt));
    }

    [Fact]
    public async Task What_is_too_late_is_expired_and_what_was_cut_short_is_unconfirmed()
    {
        var end = Now + Duration.FromMinutes(1);
        await WriteAsync(("cut-short", Now, end), ("waiting", Now + Duration.FromSeconds(30), end), ("in-time", Now, Noon));
        await ClaimAsync("died", Now, 1);
        await using var store = Open();
        Assert.Equal(0, await Outbox.ExpireAsync(store, end - Duration.FromMilliseconds(1)));
        Assert.Equal(1, await Outbox.ExpireAsync(store, end)); // the claim of the other still holds
        Assert.Equal(1, await Outbox.ExpireAsync(store, Now + Lease));
        Assert.Equal(MailState.Expired, (await ReadAsync("waiting")).State);
        Assert.Equal(MailState.Unconfirmed, (await ReadAsync("cut-short")).State);
        Assert.Equal(MailState.Pending, (await ReadAsync("in-time")).State);
    }

    [Fact]
    public async Task Of_the_mails_of_a_sender_that_died_the_one_under_way_is_in_doubt_and_the_others_are_not()
    {
        await WriteAsync(("third", Now, Noon + Duration.FromHours(2)), ("first", Now, Noon), ("second", Now, Noon + Duration.FromHours(1)), ("fourth", Now, Noon + Duration.FromHours(3)));
        await ClaimAsync("died", Now);
        await using var store = Open();
        Assert.True(await Outbox.MarkSentAsync(store, (await ReadAsync("first")).Id, Now)); // so that it died over the second

        var taken = await Outbox.ClaimAsync(store, "next", Now + Lease, Lease, 2);

        Assert.Equal([("second", Outbox.SenderStopped), ("third", null)], taken.Select(mail => (mail.Key, mail.LastError)));
        Assert.Equal(("next", 2, MailState.Sending), ((await ReadAsync("third")).Owner, taken[1].Attempts, taken[1].State));
        Assert.True(await Outbox.RetryAsync(store, taken[1].Id, "next", Now + Lease, "451 later"));
        Assert.Equal("451 later", (await ReadAsync("third")).LastError);
    }

    [Fact]
    public async Task A_mail_that_was_put_off_or_given_back_is_claimed_with_its_last_error_and_in_no_doubt()
    {
        await WriteAsync(("put-off", Now, Noon), ("given-back", Now, Noon));
        await ClaimAsync("a", Now);
        await using var store = Open();
        Assert.True(await Outbox.RetryAsync(store, (await ReadAsync("put-off")).Id, "a", Now, "451 later"));
        Assert.Equal(1, await Outbox.ReleaseAsync(store, "a", [(await ReadAsync("given-back")).Id]));

        Assert.Equal(
            [("put-off", "451 later"), ("given-back", null)],
            (await Outbox.ClaimAsync(store, "b", Now, Lease, 5)).OrderBy(mail => mail.Id).Select(mail => (mail.Key, mail.LastError)));
    }

    [Fact]
    public async Task How_many_left_in_the_last_hour_is_read_from_an_index()
    {
        await using var store = Open();
        await store.Database.OpenConnectionAsync();
        if (store.Database.IsNpgsql())
            await store.Database.ExecuteSqlRawAsync("SET enable_seqscan = off"); // a table this small would be read as a whole
        await using var command = store.Database.GetDbConnection().CreateCommand();
        command.CommandText = (store.Database.IsNpgsql() ? "EXPLAIN " : "EXPLAIN QUERY PLAN ") + """SELECT COUNT(*) FROM "Outbox" WHERE "SentAt" > '2026-10-05'""";
        var plan = new List<string>();
        await using (var reader = await command.ExecuteReaderAsync())
        {
            while (await reader.ReadAsync())
                plan.Add(string.Join(' ', Enumerable.Range(0, reader.FieldCount).Select(reader.GetValue)));
        }

        Assert.Contains(plan, line => line.Contains("IX_Outbox_SentAt", StringComparison.Ordinal));
    }

    private async Task WriteAsync(params (string Key, Instant Due, Instant NotAfter)[] mails)
    {
        await using var store = Open();
        store.AddRange(mails.Select(mail => AlderLane.Mail(mail.Key, mail.Due, mail.NotAfter)));
        await store.SaveChangesAsync();
    }

    private async Task<OutgoingMail> ReadAsync(string key)
    {
        await using var store = Open();
        return await store.Outbox.SingleAsync(mail => mail.Key == key);
    }

    private async Task<IEnumerable<string>> ClaimAsync(string owner, Instant now, int count = 10)
    {
        await using var store = Open();
        return (await Outbox.ClaimAsync(store, owner, now, Lease, count)).Select(mail => mail.Key);
    }

    private async Task<List<OutgoingMail>> ClaimAllAsync(string owner)
    {
        var all = new List<OutgoingMail>();
        while (true)
        {
            await using var store = Open();
            var some = await Outbox.ClaimAsync(store, owner, Now, Lease, 7);
            if (some.Count == 0 || all.Count > 200) return all; // more than there are: claimed twice, and without end
            all.AddRange(some);
        }
    }
}

public sealed class OutboxOnSqliteTests : OutboxTests<SqliteDatabase>;

public sealed class OutboxOnPostgresTests : OutboxTests<PostgresDatabase>;
