using System.ComponentModel;
using System.Text.Json;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Webhooks;

/// <summary>A webhook as the API gives it.</summary>
[Description("An address of a program that is told when something happens.")]
internal sealed record WebhookBody(
    [property: Description("Key.")] long Id,
    [property: Description("What its maker calls it.")] string Name,
    [property: Description("Where to.")] string Address,
    [property: Description("Which events.")] IReadOnlyList<string> Events,
    [property: Description("Whether it is told things at present.")] bool Active,
    [property: Description("Why the service stopped it: gone or failing; null where its owner switched it off, or it is on.")] string? StoppedWhy,
    [property: Description("Since when nothing arrives; null while deliveries do.")] Instant? FailingSince,
    [property: Description("Until when deliveries are signed with the secret before as well; null where they are not.")] Instant? OldSecretUntil,
    [property: Description("When it was made.")] Instant MadeAt)
{
    public static WebhookBody Of(Webhook row) => new(
        row.Id, row.Name, row.Address, WebhookEvents.Of(row), row.Active, row.StoppedWhy, row.FailingSince, row.OldSecretUntil, row.MadeAt);
}

/// <summary>A webhook with its secret.</summary>
[Description("A webhook with its secret, which is shown this once.")]
internal sealed record WebhookWithSecret(
    [property: Description("The webhook.")] WebhookBody Webhook,
    [property: Description("whsec_ and the key that deliveries are signed with, in base64. It is not told again; null where the same request is sent again.")] string? Secret);

/// <summary>A webhook as it is sent.</summary>
[Description("A webhook as it is made or changed.")]
internal sealed record WebhookChange(
    [property: Description("What it is called, up to 80 characters.")] string Name,
    [property: Description("Where to: https on the open internet, up to 500 characters.")] string Address,
    [property: Description(
        "Which events, each once: notice.opened, notice.changed, notice.closed, log-entry.made, log-entry.undone, bed.made, bed.changed, round.done.")]
    IReadOnlyList<string> Events,
    [property: Description("Whether it is told things; true where left out. Switched off, it forgets what waits for it.")] bool? Active) : IReadBody<WebhookChange>
{
    public static WebhookChange Read(JsonFields fields) => new(
        fields.Line("name", WebhookShelf.LongestName, required: true) ?? "",
        fields.Text("address", WebhookAddress.Longest, required: true) ?? "",
        fields.Names("events", WebhookEvents.All) ?? [],
        fields.YesNo("active"));
}

/// <summary>A delivery as the API gives it.</summary>
[Description("Something that a webhook was told, or is to be told.")]
internal sealed record DeliveryBody(
    [property: Description("Key.")] long Id,
    [property: Description("Key of the webhook.")] long WebhookId,
    [property: Description("The webhook-id of its header: the same at every attempt.")] string MessageId,
    [property: Description("Which event.")] string Event,
    [property: Description("Where it stands.")] DeliveryState State,
    [property: Description("Attempts begun.")] int Attempts,
    [property: Description("When it was written.")] Instant MadeAt,
    [property: Description("Not before; null where it is not waiting.")] Instant? NextTryAt,
    [property: Description("When it arrived.")] Instant? DeliveredAt,
    [property: Description("HTTP status of the last attempt; null where there was no answer.")] int? LastStatus,
    [property: Description(
        "What the last attempt ran into: status, gone, redirect, timeout, no-such-host, blocked-address, tls, connection, secret-lost or stopped; null after a good one.")]
    string? LastError)
{
    public static DeliveryBody Of(WebhookDelivery row) => new(
        row.Id,
        row.WebhookId,
        row.MessageId,
        row.Event,
        row.State,
        row.Attempts,
        row.MadeAt,
        row.State == DeliveryState.Pending ? row.NextTryAt : null,
        row.DeliveredAt,
        row.LastStatus,
        row.LastError);
}

/// <summary>A delivery with what was sent.</summary>
[Description("A delivery with what was sent.")]
internal sealed record DeliveryWithBody(
    [property: Description("The delivery.")] DeliveryBody Delivery,
    [property: Description("What was sent; null after 30 days.")] JsonElement? Body)
{
    public static DeliveryWithBody Of(WebhookDelivery row) =>
        new(DeliveryBody.Of(row), row.Body.Length == 0 ? null : JsonDocument.Parse(row.Body).RootElement);
}
