using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Webhooks;

/// <summary>What a run did.</summary>
/// <param name="Delivered">Taken by their receivers.</param>
/// <param name="Later">To be tried again.</param>
/// <param name="Failed">Given up.</param>
internal sealed record WebhookRun(int Delivered, int Later, int Failed);

/// <summary>
/// Sends what is due. Any number of senders may work at once, in this process and in others; a webhook's deliveries go one after the
/// other, and those of different webhooks beside each other.
/// </summary>
internal sealed class WebhookSender(
    StoreFactory stores, WebhookCaller caller, WebhookStopping stopping, WebhookChance chance, IClock clock, ILogger<WebhookSender> log)
{
    private const int AtOnce = 8;

    /// <summary>Longer than any attempt.</summary>
    private static readonly Duration s_lease = Duration.FromMinutes(2);

    /// <summary>A receiver that failed is left alone for as long as this at most; then the next in line has its turn.</summary>
    private static readonly Duration s_longestRest = Duration.FromMinutes(1);

    /// <summary>How long a receiver may fail before nothing more is sent to it.</summary>
    public static readonly Duration FailingFor = Duration.FromDays(5);

    /// <summary>Waits before the second, third… attempt, as the standard suggests; after the last one it is given up.</summary>
    public static readonly IReadOnlyList<Duration> Waits =
    [
        Duration.FromSeconds(5), Duration.FromMinutes(5), Duration.FromMinutes(30), Duration.FromHours(2), Duration.FromHours(8), Duration.FromHours(24),
    ];

    /// <summary>Sends all that is due now.</summary>
    public async Task<WebhookRun> SendDueAsync(CancellationToken stop)
    {
        var runs = await Task.WhenAll(Enumerable.Range(0, AtOnce).Select(_ => WorkAsync(stop)));
        return new WebhookRun(runs.Sum(run => run.Delivered), runs.Sum(run => run.Later), runs.Sum(run => run.Failed));
    }

    private async Task<WebhookRun> WorkAsync(CancellationToken stop)
    {
        var run = new WebhookRun(0, 0, 0);
        var owner = $"hook-{Guid.NewGuid():N}";
        await using var store = stores.CreateDbContext();
        while (!stop.IsCancellationRequested)
        {
            // What is claimed is attempted: cut off in between, it would be held until the claim runs out.
            if (await Deliveries.ClaimAsync(store, owner, clock.GetCurrentInstant(), s_lease, CancellationToken.None) is not { } delivery)
                return run;
            if (await store.Webhooks.AsNoTracking().SingleOrDefaultAsync(row => row.Id == delivery.WebhookId, CancellationToken.None) is not { } webhook)
                continue; // deleted this moment, and its deliveries with it
            var outcome = await caller.CallAsync(webhook, delivery, stop);
            // What has happened is recorded even while the program stops.
            run = await RecordAsync(store, owner, webhook, delivery, outcome, run);
            log.LogInformation(
                "Webhook {Webhook}, delivery {Delivery}: attempt {Attempt}, {Outcome} {Status}",
                webhook.Id, delivery.Id, delivery.Attempts, outcome.Error ?? "delivered", outcome.Status);
        }

        return run;
    }

    private async Task<WebhookRun> RecordAsync(
        FruitWatchStore store, string owner, Webhook webhook, WebhookDelivery delivery, CallOutcome outcome, WebhookRun run)
    {
        var done = CancellationToken.None;
        var now = clock.GetCurrentInstant();
        if (outcome.Error is not { } error)
        {
            await Deliveries.MarkDeliveredAsync(store, delivery.Id, now, outcome.Status!.Value, done);
            await store.Webhooks.Where(row => row.Id == webhook.Id && row.FailingSince != null)
                .ExecuteUpdateAsync(set => set.SetProperty(row => row.FailingSince, (Instant?)null), done);
            return run with { Delivered = run.Delivered + 1 };
        }

        var gone = error == DeliveryErrors.Gone;
        var wait = delivery.Attempts <= Waits.Count ? chance.Stretched(Waits[delivery.Attempts - 1]) : (Duration?)null;
        if (wait is { } planned && outcome.Rest is { } asked && asked > planned)
            wait = asked;
        Instant? since = webhook.FailingSince ?? now;
        var failing = now - since >= FailingFor;
        var next = gone || failing || wait is null ? (Instant?)null : now + wait.Value;
        // This delivery holds its lane until the last line: before that, nothing more goes to a receiver that failed or wants no more.
        await Deliveries.RestAsync(store, webhook.Id, now + (outcome.Rest ?? Duration.Min(wait ?? s_longestRest, s_longestRest)), done);
        await store.Webhooks.Where(row => row.Id == webhook.Id && row.FailingSince == null)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.FailingSince, since), done);
        if (gone || failing)
            await stopping.StopAsync(webhook.Id, gone ? WebhookStopping.Gone : WebhookStopping.Failing, done);
        await Deliveries.MarkFailedAsync(store, delivery.Id, owner, next, outcome.Status, error, done);
        return next is null ? run with { Failed = run.Failed + 1 } : run with { Later = run.Later + 1 };
    }
}

/// <summary>Stretches waits a little, so that receivers that failed together are not tried together again.</summary>
/// <param name="draw">A number from 0 to 1.</param>
internal sealed class WebhookChance(Func<double> draw)
{
    private const double Most = 0.2;

    public Duration Stretched(Duration wait) => wait * (1 + (Most * draw()));
}
