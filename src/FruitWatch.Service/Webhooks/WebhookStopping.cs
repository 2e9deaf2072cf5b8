using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Webhooks;

/// <summary>Stops a webhook whose receiver is gone, or has only failed for days, and tells the coordinators by mail, in one transaction.</summary>
internal sealed class WebhookStopping(StoreFactory stores, ServiceOptions options, IClock clock)
{
    /// <summary>The receiver said that it wants no more (HTTP 410).</summary>
    public const string Gone = "gone";

    /// <summary>Nothing arrived for days.</summary>
    public const string Failing = "failing";

    private static readonly Duration s_ofUse = Duration.FromDays(3);

    /// <summary>Stops it, unless somebody was quicker.</summary>
    public async Task StopAsync(long webhookId, string why, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        var stopped = await store.Webhooks.Where(row => row.Id == webhookId && row.Active)
            .ExecuteUpdateAsync(
                set => set.SetProperty(row => row.Active, false)
                    .SetProperty(row => row.StoppedWhy, why)
                    .SetProperty(row => row.Version, row => row.Version + 1),
                stop);
        if (stopped == 0)
            return;
        await Deliveries.GiveUpAsync(store, webhookId, clock.GetCurrentInstant(), DeliveryErrors.Stopped, stop);
        await TellAsync(store, await store.Webhooks.AsNoTracking().SingleAsync(row => row.Id == webhookId, stop), why, stop);
        await transaction.CommitAsync(stop);
    }

    private async Task TellAsync(FruitWatchStore store, Webhook webhook, string why, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var cooperative = await store.Cooperatives.Where(row => row.Id == webhook.CooperativeId).Select(row => row.Name).SingleAsync(stop);
        var coordinators = await store.PeopleToTell().AsNoTracking()
            .Where(row => row.CooperativeId == webhook.CooperativeId && row.Role == Role.Coordinator)
            .OrderBy(row => row.Id).ToListAsync(stop);
        foreach (var person in coordinators)
        {
            var mail = WebhookLetter.Write(webhook, why, person, cooperative, options.BaseUrl, Words.For(person.Language));
            var key = FormattableString.Invariant($"webhook-stopped:{webhook.Id}:{webhook.Version}:{person.Id}");
            await store.AddIfNewAsync(NewMail.To(person, key, mail, options, now, now + s_ofUse), stop);
        }
    }
}
