using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Webhooks;

/// <summary>Webhooks in the web API.</summary>
internal static class WebhooksApi
{
    public static void MapWebhooks(this IEndpointRouteBuilder api)
    {
        var hooks = api.MapGroup("/webhooks").WithTags("Webhooks").Needs(Right.ManageCooperative);
        hooks.MapGet("", ListAsync).WithName("ListWebhooks").WithSummary("All webhooks, in order of their keys.").Refusing(400);
        hooks.MapGet("{id:long}", GetAsync).WithName("GetWebhook").WithSummary("A webhook.").Giving<WebhookBody>().GivingVersion().Refusing(404);
        hooks.MapPost("", AddAsync).WithName("AddWebhook").WithSummary("Makes a webhook. Its secret is told in this answer only. There can be 20.").ShowingOnce("secret").Refusing(409);
        hooks.MapPut("{id:long}", ChangeAsync).WithName("ChangeWebhook")
            .WithSummary("Changes a webhook, or switches it on or off.").NeedingVersion().Refusing(404, 409);
        hooks.MapDelete("{id:long}", DeleteAsync).WithName("DeleteWebhook").WithSummary("Deletes a webhook with all its deliveries.").NeedingVersion().Refusing(404, 409);
        hooks.MapPost("{id:long}/rotate-secret", RotateAsync).WithName("RotateWebhookSecret")
            .WithSummary("Gives a webhook a new secret, told in this answer only. For 24 hours deliveries are signed with the one before as well.").ShowingOnce("secret").Refusing(404, 409);
        hooks.MapPost("{id:long}/test", TestAsync).WithName("TestWebhook")
            .WithSummary("Sends webhook.test within a minute; 409 where the webhook is off or the last test still waits.").Refusing(404, 409);
    }

    private static async Task<Results<Ok<Listing<WebhookBody>>, ProblemHttpResult>> ListAsync(
        FruitWatchStore store,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var after = paging.After ?? 0;
        var rows = await store.Webhooks.AsNoTracking().Where(row => row.Id > after).OrderBy(row => row.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, row => row.Id, WebhookBody.Of, context.Request));
    }

    private static async Task<IResult> GetAsync([Description("Key of the webhook.")] long id, FruitWatchStore store, HttpContext context) =>
        await store.Webhooks.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, context.RequestAborted) is { } row
            ? ETags.Ok(context, row, WebhookBody.Of(row))
            : ApiProblems.NotFound("webhook", id);

    private static async Task<Results<Created<WebhookWithSecret>, ProblemHttpResult>> AddAsync(
        Body<WebhookChange> body, WebhookShelf shelf, ServiceOptions options, Visitor visitor, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        if (!Check(body, options))
            return ApiProblems.Fields(body.Fields.Errors);
        if (await shelf.IsFullAsync(context.RequestAborted))
            return ApiProblems.Conflict(Words.For("en").WebhooksFull);
        var sent = body.Value;
        var (row, secret) = await shelf.AddAsync(visitor.Cooperative!.Id, sent.Name, sent.Address, sent.Events, context.RequestAborted);
        if (sent.Active == false)
            await shelf.ChangeAsync(row, row.Name, row.Address, sent.Events, active: false, context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        context.Response.Headers.CacheControl = "no-store";
        return TypedResults.Created(
            FormattableString.Invariant($"{ApiProblems.Root}/webhooks/{row.Id}"), new WebhookWithSecret(WebhookBody.Of(row), secret));
    }

    private static async Task<Results<Ok<WebhookBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the webhook.")] long id, Body<WebhookChange> body, WebhookShelf shelf, ServiceOptions options, FruitWatchStore store, HttpContext context)
    {
        if (await store.Webhooks.SingleOrDefaultAsync(row => row.Id == id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("webhook", id);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } version)
            return version;
        if (!Check(body, options))
            return ApiProblems.Fields(body.Fields.Errors);
        var sent = body.Value;
        await shelf.ChangeAsync(row, sent.Name, sent.Address, sent.Events, sent.Active ?? true, context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(WebhookBody.Of(row));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DeleteAsync(
        [Description("Key of the webhook.")] long id, WebhookShelf shelf, FruitWatchStore store, HttpContext context)
    {
        if (await store.Webhooks.SingleOrDefaultAsync(row => row.Id == id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("webhook", id);
        if (ETags.Refuses(context.Request, row) is { } version)
            return version;
        await shelf.DeleteAsync(row, context.RequestAborted);
        return TypedResults.NoContent();
    }

    private static async Task<Results<Ok<WebhookWithSecret>, ProblemHttpResult>> RotateAsync(
        [Description("Key of the webhook.")] long id, WebhookShelf shelf, FruitWatchStore store, HttpContext context)
    {
        if (await store.Webhooks.SingleOrDefaultAsync(row => row.Id == id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("webhook", id);
        var secret = await shelf.RotateAsync(row, context.RequestAborted);
        context.Response.Headers.CacheControl = "no-store";
        return TypedResults.Ok(new WebhookWithSecret(WebhookBody.Of(row), secret));
    }

    private static async Task<Results<Accepted<DeliveryBody>, ProblemHttpResult>> TestAsync(
        [Description("Key of the webhook.")] long id, WebhookShelf shelf, FruitWatchStore store, HttpContext context)
    {
        if (await store.Webhooks.SingleOrDefaultAsync(row => row.Id == id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("webhook", id);
        return await shelf.TestAsync(row, context.RequestAborted) is { } sent
            ? TypedResults.Accepted(FormattableString.Invariant($"{ApiProblems.Root}/webhooks/{id}/deliveries/{sent.Id}"), DeliveryBody.Of(sent))
            : ApiProblems.Conflict(Words.For("en").WebhooksNotTested);
    }

    private static bool Check(Body<WebhookChange> body, ServiceOptions options)
    {
        if (WebhookAddress.Check(body.Value.Address, options.LocalReceiverSet) is { } wrong)
            body.Fields.Refuse("address", Words.For("en").Explain(wrong));
        return body.Fields.Good;
    }
}
