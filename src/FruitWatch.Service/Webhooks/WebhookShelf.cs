using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Webhooks;

/// <summary>Makes, changes and tries out webhooks, for pages and API alike.</summary>
internal sealed class WebhookShelf(FruitWatchStore store, WebhookKeys keys, IClock clock)
{
    /// <summary>More than anybody needs, and few enough that a log entry is not sent all over the world.</summary>
    public const int Most = 20;

    public const int LongestName = 80;

    /// <summary>While both secrets are signed with.</summary>
    public static readonly Duration BothFor = Duration.FromHours(24);

    /// <summary>Whether there is room for one more.</summary>
    public async Task<bool> IsFullAsync(CancellationToken stop) => await store.Webhooks.CountAsync(stop) >= Most;

    /// <summary>Makes one and gives its secret, which is shown once.</summary>
    public async Task<(Webhook Row, string Secret)> AddAsync(long cooperativeId, string name, string address, IEnumerable<string> events, CancellationToken stop)
    {
        var secret = WebhookKeys.Draw();
        var row = new Webhook
        {
            CooperativeId = cooperativeId,
            Name = name,
            Address = address,
            Events = string.Join(' ', events),
            SealedSecret = keys.Seal(secret),
            MadeAt = clock.GetCurrentInstant(),
        };
        store.Webhooks.Add(row);
        await store.SaveChangesAsync(stop);
        return (row, secret);
    }

    /// <summary>Changes one. Switched off, it forgets what waits; switched on, it begins anew.</summary>
    public async Task ChangeAsync(Webhook row, string name, string address, IEnumerable<string> events, bool active, CancellationToken stop)
    {
        (row.Name, row.Address, row.Events) = (name, address, string.Join(' ', events));
        var changed = row.Active != active;
        if (changed && active)
            (row.StoppedWhy, row.FailingSince) = (null, null);
        row.Active = active;
        await using var whole = await store.JoinAsync(stop);
        await store.SaveChangesAsync(stop);
        // Switched on as well: a sender that died when it stopped the webhook has left a delivery under way.
        if (changed)
            await Deliveries.GiveUpAsync(store, row.Id, clock.GetCurrentInstant(), DeliveryErrors.Stopped, stop);
        await whole.CommitAsync(stop);
    }

    /// <summary>Gives it a new secret; the one before is signed with too for a day.</summary>
    public async Task<string> RotateAsync(Webhook row, CancellationToken stop)
    {
        var secret = WebhookKeys.Draw();
        (row.SealedOldSecret, row.OldSecretUntil, row.SealedSecret) = (row.SealedSecret, clock.GetCurrentInstant() + BothFor, keys.Seal(secret));
        await store.SaveChangesAsync(stop);
        return secret;
    }

    public async Task DeleteAsync(Webhook row, CancellationToken stop)
    {
        store.Webhooks.Remove(row);
        await store.SaveChangesAsync(stop);
    }

    /// <summary>Sends an event that means nothing. Null where it is switched off, or one still waits.</summary>
    public async Task<WebhookDelivery?> TestAsync(Webhook row, CancellationToken stop)
    {
        if (!row.Active || await store.WebhookDeliveries.AnyAsync(
            sent => sent.WebhookId == row.Id && sent.Event == WebhookEvents.Test && (sent.State == DeliveryState.Pending || sent.State == DeliveryState.Sending), stop))
            return null;
        var happening = new Happening(WebhookEvents.Test, await OnceAsync(row, stop), FormattableString.Invariant($"webhooks/{row.Id}"));
        return await WebhookEvents.AddToAsync(store, clock.GetCurrentInstant(), row, happening, stop);
    }

    private async Task<string> OnceAsync(Webhook row, CancellationToken stop) => FormattableString.Invariant(
        $"{clock.GetCurrentInstant().ToUnixTimeTicks()}/{await store.WebhookDeliveries.Where(sent => sent.WebhookId == row.Id).MaxAsync(sent => (long?)sent.Id, stop)}");

    /// <summary>Sends a delivery again under its identifier. False where its webhook is off, it is on its way, or its body is no longer kept.</summary>
    public async Task<bool> ResendAsync(Webhook row, long deliveryId, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        return row.Active && await store.WebhookDeliveries
            .Where(sent => sent.Id == deliveryId && sent.WebhookId == row.Id && sent.Body != ""
                && (sent.State == DeliveryState.Delivered || sent.State == DeliveryState.Failed))
            .ExecuteUpdateAsync(
                set => set.SetProperty(sent => sent.State, DeliveryState.Pending)
                    .SetProperty(sent => sent.Attempts, 0)
                    .SetProperty(sent => sent.NextTryAt, now)
                    .SetProperty(sent => sent.DeliveredAt, (Instant?)null)
                    .SetProperty(sent => sent.LastStatus, (int?)null)
                    .SetProperty(sent => sent.LastError, (string?)null),
                stop) == 1;
    }
}
