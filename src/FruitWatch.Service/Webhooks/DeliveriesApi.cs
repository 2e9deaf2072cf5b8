using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Webhooks;

/// <summary>What webhooks were told, in the web API.</summary>
internal static class DeliveriesApi
{
    public static void MapDeliveries(this IEndpointRouteBuilder api)
    {
        var sent = api.MapGroup("/webhooks/{id:long}/deliveries").WithTags("Webhooks").Needs(Right.ManageCooperative);
        sent.MapGet("", ListAsync).WithName("ListDeliveries").WithSummary("What a webhook was told, the last first; kept for 180 days.").Refusing(400, 404);
        sent.MapGet("{deliveryId:long}", GetAsync).WithName("GetDelivery").WithSummary("A delivery with what was sent.").Refusing(404);
        sent.MapPost("{deliveryId:long}/resend", ResendAsync).WithName("ResendDelivery")
            .WithSummary("Sends a delivery again under its webhook-id; 409 where the webhook is off, it is on its way, or it is older than 30 days.").Refusing(404, 409);
    }

    private static async Task<Results<Ok<Listing<DeliveryBody>>, ProblemHttpResult>> ListAsync(
        [Description("Key of the webhook.")] long id,
        FruitWatchStore store,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        if (!await store.Webhooks.AnyAsync(row => row.Id == id, context.RequestAborted))
            return ApiProblems.NotFound("webhook", id);
        var before = paging.After ?? long.MaxValue;
        var rows = await store.WebhookDeliveries.AsNoTracking().Where(row => row.WebhookId == id && row.Id < before)
            .OrderByDescending(row => row.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, row => row.Id, DeliveryBody.Of, context.Request));
    }

    private static async Task<Results<Ok<DeliveryWithBody>, ProblemHttpResult>> GetAsync(
        [Description("Key of the webhook.")] long id, [Description("Key of the delivery.")] long deliveryId, FruitWatchStore store, HttpContext context) =>
        await FindAsync(store, id, deliveryId, context.RequestAborted) is { } row
            ? TypedResults.Ok(DeliveryWithBody.Of(row))
            : ApiProblems.NotFound("delivery", deliveryId);

    private static async Task<Results<Accepted<DeliveryBody>, ProblemHttpResult>> ResendAsync(
        [Description("Key of the webhook.")] long id, [Description("Key of the delivery.")] long deliveryId, WebhookShelf shelf, FruitWatchStore store, HttpContext context)
    {
        var webhook = await store.Webhooks.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, context.RequestAborted);
        if (webhook is null || await FindAsync(store, id, deliveryId, context.RequestAborted) is null)
            return ApiProblems.NotFound("delivery", deliveryId);
        if (!await shelf.ResendAsync(webhook, deliveryId, context.RequestAborted))
            return ApiProblems.Conflict(Words.For("en").WebhooksNotResent);
        var row = await FindAsync(store, id, deliveryId, context.RequestAborted);
        return TypedResults.Accepted(FormattableString.Invariant($"{ApiProblems.Root}/webhooks/{id}/deliveries/{deliveryId}"), DeliveryBody.Of(row!));
    }

    private static Task<WebhookDelivery?> FindAsync(FruitWatchStore store, long id, long deliveryId, CancellationToken stop) =>
        store.WebhookDeliveries.AsNoTracking().SingleOrDefaultAsync(row => row.Id == deliveryId && row.WebhookId == id, stop);
}
