using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class DeliveriesTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    private const int Hooks = 5;
    private const int OfEach = 20;
    private static readonly Duration Lease = Duration.FromMinutes(1);

    [Fact]
    public async Task Eight_senders_at_once_take_every_delivery_once_and_those_of_a_webhook_in_turn()
    {
        var taken = (await Task.WhenAll(Enumerable.Range(0, 8).Select(sender => Task.Run(() => TakeAllAsync($"sender-{sender}"))))).SelectMany(one => one).ToList();

        Assert.Equal(Hooks * OfEach, taken.Count);
        Assert.Equal(Hooks * OfEach, taken.Distinct().Count());
        await using var store = Open();
        Assert.True(await store.WebhookDeliveries.AllAsync(row => row.State == DeliveryState.Delivered && row.Attempts == 1));
    }

    [Fact]
    public async Task A_webhook_whose_delivery_is_under_way_is_given_no_second_until_the_claim_is_over()
    {
        var first = new List<WebhookDelivery>();
        for (var i = 0; i < Hooks; i++)
        {
            await using var store = Open();
            first.Add(Assert.IsType<WebhookDelivery>(await Deliveries.ClaimAsync(store, "a", Now, Lease)));
        }

        Assert.Equal(Hooks, first.Select(row => row.WebhookId).Distinct().Count());
        await using var after = Open();
        Assert.Null(await Deliveries.ClaimAsync(after, "b", Now + Lease - Duration.FromMilliseconds(1), Lease));
        var again = await Deliveries.ClaimAsync(after, "b", Now + Lease, Lease);
        Assert.Equal((first.Min(row => row.Id), 2), (again!.Id, again.Attempts));
    }

    [Fact]
    public async Task Given_up_is_what_waits_and_what_a_sender_died_over_but_not_what_is_under_way()
    {
        await using var store = Open();
        var died = (await Deliveries.ClaimAsync(store, "died", Now, Lease))!;
        await store.Webhooks.Where(hook => hook.Id == died.WebhookId).ExecuteUpdateAsync(set => set.SetProperty(hook => hook.Active, false));
        Assert.Equal(OfEach - 1, await Deliveries.GiveUpAsync(store, died.WebhookId, Now, "stopped"));
        Assert.Equal(0, await Deliveries.GiveUpAsync(store, Now + Lease - Duration.FromMilliseconds(1), "stopped"));

        Assert.Equal(1, await Deliveries.GiveUpAsync(store, Now + Lease, "stopped"));

        var ended = await store.WebhookDeliveries.AsNoTracking().SingleAsync(row => row.Id == died.Id);
        Assert.Equal((DeliveryState.Failed, "stopped", null, null), (ended.State, ended.LastError, ended.Owner, ended.LeaseUntil));
        Assert.Equal((Hooks - 1) * OfEach, await store.WebhookDeliveries.CountAsync(row => row.State == DeliveryState.Pending));
    }

    protected override async Task FillAsync()
    {
        await using var store = Open();
        var (cooperative, _, _, _) = await AlderLane.FoundAsync(store);
        for (var i = 0; i < Hooks; i++)
        {
            var hook = new Webhook
            {
                CooperativeId = cooperative.Id,
                Name = $"Program {i}",
                Address = "https://hooks.example.org/",
                Events = "round.done",
                SealedSecret = "-",
                MadeAt = Now,
            };
            store.Webhooks.Add(hook);
            await store.SaveChangesAsync();
            store.WebhookDeliveries.AddRange(Enumerable.Range(0, OfEach).Select(turn => new WebhookDelivery
            {
                CooperativeId = cooperative.Id,
                WebhookId = hook.Id,
                MessageId = $"msg-{turn}",
                Event = "round.done",
                Body = "{}",
                NextTryAt = Now,
                MadeAt = Now,
            }));
            await store.SaveChangesAsync();
        }
    }

    private async Task<List<long>> TakeAllAsync(string owner)
    {
        var taken = new List<long>();
        // A sender that finds nothing looks again: what it waited for may have been another's turn.
        for (var idle = 0; idle < 20 && taken.Count <= Hooks * OfEach;)
        {
            await using var store = Open();
            if (await Deliveries.ClaimAsync(store, owner, Now, Lease) is not { } delivery)
            {
                idle++;
                await Task.Delay(10);
                continue;
            }

            idle = 0;
            taken.Add(delivery.Id);
            await Deliveries.MarkDeliveredAsync(store, delivery.Id, Now, 200);
        }

        return taken;
    }
}

public sealed class DeliveriesOnSqliteTests : DeliveriesTests<SqliteDatabase>;

public sealed class DeliveriesOnPostgresTests : DeliveriesTests<PostgresDatabase>;
