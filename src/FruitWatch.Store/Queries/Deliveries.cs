using FruitWatch.Store.Entities;
using FruitWatch.Store.Mapping;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Queries;

/// <summary>
/// Handing out deliveries to senders. Every webhook is a lane of its own: one delivery of it is under way at a time, the oldest that is
/// due first, so that order holds as far as retries allow and a dead receiver holds up nobody else. A sender that dies gives its
/// delivery back when the claim is over; the receiver then may see the same <c>webhook-id</c> twice.
/// </summary>
public static class Deliveries
{
    private const string Due = """(("State" = 'pending' AND "NextTryAt" <= {2}) OR ("State" = 'sending' AND "LeaseUntil" <= {2}))""";

    // The condition stands outside once more: on PostgreSQL a second sender that waited for the row looks at it again before it takes it.
    // Lanes that work go before those that fail.
    private const string Claim = $$"""
        UPDATE "WebhookDeliveries" SET "State" = 'sending', "Owner" = {0}, "LeaseUntil" = {1}, "Attempts" = "Attempts" + 1
        WHERE {{Due}} AND "Id" IN (
            SELECT lane."First" FROM (
                SELECT "WebhookId", MIN("Id") AS "First" FROM "WebhookDeliveries" WHERE {{Due}} GROUP BY "WebhookId") AS lane
            JOIN "Webhooks" AS hook ON hook."Id" = lane."WebhookId"
            WHERE hook."Active" AND NOT EXISTS (
                SELECT 1 FROM "WebhookDeliveries" AS busy
                WHERE busy."WebhookId" = lane."WebhookId" AND busy."State" = 'sending' AND busy."LeaseUntil" > {2})
            ORDER BY CASE WHEN hook."FailingSince" IS NULL THEN 0 ELSE 1 END, lane."First" LIMIT 1)
        RETURNING *
        """;

    /// <summary>Claims the next delivery that is due and counts an attempt. One statement: however many senders ask, it is given to one.</summary>
    /// <returns>Null where nothing is due, or another sender was quicker.</returns>
    public static async Task<WebhookDelivery?> ClaimAsync(
        FruitWatchStore store, string owner, Instant now, Duration lease, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(lease, Duration.Zero);
        var claimed = await store.WebhookDeliveries.FromSqlRaw(Claim, owner, TimeColumns.ToColumn(now + lease), TimeColumns.ToColumn(now))
            .IgnoreQueryFilters().AsNoTracking().ToListAsync(cancellationToken);
        return claimed.SingleOrDefault();
    }

    /// <summary>The receiver took it. A fact whoever holds the claim by now, so it is recorded in any case.</summary>
    public static Task<int> MarkDeliveredAsync(
        FruitWatchStore store, long deliveryId, Instant at, int status, CancellationToken cancellationToken = default) =>
        store.WebhookDeliveries.Where(row => row.Id == deliveryId && row.State != DeliveryState.Delivered)
            .ExecuteUpdateAsync(
                set => set.SetProperty(row => row.State, DeliveryState.Delivered)
                    .SetProperty(row => row.DeliveredAt, at)
                    .SetProperty(row => row.LastStatus, status)
                    .SetProperty(row => row.LastError, (string?)null)
                    .SetProperty(row => row.Owner, (string?)null)
                    .SetProperty(row => row.LeaseUntil, (Instant?)null),
                cancellationToken);

    /// <summary>The attempt failed: for good where there is no next one.</summary>
    /// <returns>False if the claim was lost meanwhile; then nothing is changed.</returns>
    public static async Task<bool> MarkFailedAsync(
        FruitWatchStore store, long deliveryId, string owner, Instant? nextTryAt, int? status, string error, CancellationToken cancellationToken = default) =>
        await store.WebhookDeliveries.Where(row => row.Id == deliveryId && row.Owner == owner && row.State == DeliveryState.Sending)
            .ExecuteUpdateAsync(
                set => set.SetProperty(row => row.State, nextTryAt == null ? DeliveryState.Failed : DeliveryState.Pending)
                    .SetProperty(row => row.NextTryAt, row => nextTryAt ?? row.NextTryAt)
                    .SetProperty(row => row.LastStatus, status)
                    .SetProperty(row => row.LastError, error)
                    .SetProperty(row => row.Owner, (string?)null)
                    .SetProperty(row => row.LeaseUntil, (Instant?)null),
                cancellationToken) == 1;

    /// <summary>Lets a receiver rest: what waits for it is not tried before then.</summary>
    public static Task<int> RestAsync(FruitWatchStore store, long webhookId, Instant until, CancellationToken cancellationToken = default) =>
        store.WebhookDeliveries.Where(row => row.WebhookId == webhookId && row.State == DeliveryState.Pending && row.NextTryAt < until)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.NextTryAt, until), cancellationToken);

    /// <summary>
    /// Gives up what waits for a webhook that is told nothing any more, and what a sender died over: nobody else would end that, for
    /// nothing is claimed for such a webhook.
    /// </summary>
    public static Task<int> GiveUpAsync(FruitWatchStore store, long webhookId, Instant now, string error, CancellationToken cancellationToken = default) =>
        GiveUpAsync(store.WebhookDeliveries.Where(row => row.WebhookId == webhookId), now, error, cancellationToken);

    /// <summary>The same for all webhooks that are switched off.</summary>
    public static Task<int> GiveUpAsync(FruitWatchStore store, Instant now, string error, CancellationToken cancellationToken = default) => GiveUpAsync(
        store.WebhookDeliveries.Where(row => store.Webhooks.Any(hook => hook.Id == row.WebhookId && !hook.Active)), now, error, cancellationToken);

    private static Task<int> GiveUpAsync(IQueryable<WebhookDelivery> rows, Instant now, string error, CancellationToken cancellationToken) => rows
        .Where(row => row.State == DeliveryState.Pending || (row.State == DeliveryState.Sending && row.LeaseUntil <= now))
        .ExecuteUpdateAsync(
            set => set.SetProperty(row => row.State, DeliveryState.Failed)
                .SetProperty(row => row.LastError, error)
                .SetProperty(row => row.Owner, (string?)null)
                .SetProperty(row => row.LeaseUntil, (Instant?)null),
            cancellationToken);

    /// <summary>When the next one is due; null where nothing waits.</summary>
    public static Task<Instant?> NextDueAsync(FruitWatchStore store, CancellationToken cancellationToken = default) =>
        store.WebhookDeliveries
            .Where(row => row.State == DeliveryState.Pending && store.Webhooks.Any(hook => hook.Id == row.WebhookId && hook.Active))
            .MinAsync(row => (Instant?)row.NextTryAt, cancellationToken);
}
