using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>An address of somebody's program that is told when something happens (Standard Webhooks).</summary>
public sealed class Webhook : IEdited
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>What its maker calls it.</summary>
    public required string Name { get; set; }

    /// <summary>Where to.</summary>
    public required string Address { get; set; }

    /// <summary>Which events: names separated by spaces.</summary>
    public required string Events { get; set; }

    /// <summary>The secret that deliveries are signed with, encrypted with the service's own keys.</summary>
    public required string SealedSecret { get; set; }

    /// <summary>The secret before, while both are signed with; null otherwise.</summary>
    public string? SealedOldSecret { get; set; }

    /// <summary>Until when the old secret is signed with too.</summary>
    public Instant? OldSecretUntil { get; set; }

    /// <summary>Whether it is told things at present.</summary>
    public bool Active { get; set; } = true;

    /// <summary>Why the service no longer tells it, as a code; null where its owner switched it off, or it is on.</summary>
    public string? StoppedWhy { get; set; }

    /// <summary>Since when every delivery fails; null while they arrive.</summary>
    public Instant? FailingSince { get; set; }

    /// <summary>When it was made.</summary>
    public Instant MadeAt { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;
}

/// <summary>Something to tell a <see cref="Webhook"/>, written in the transaction of what happened.</summary>
public sealed class WebhookDelivery
{
    /// <summary>Key of the row.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Where to.</summary>
    public long WebhookId { get; set; }

    /// <summary>The <c>webhook-id</c>: the same at every attempt. Unique for a webhook.</summary>
    public required string MessageId { get; set; }

    /// <summary>Which event.</summary>
    public required string Event { get; set; }

    /// <summary>The whole body as JSON.</summary>
    public required string Body { get; set; }

    /// <summary>Where it stands.</summary>
    public DeliveryState State { get; set; }

    /// <summary>Attempts begun.</summary>
    public int Attempts { get; set; }

    /// <summary>Not before.</summary>
    public Instant NextTryAt { get; set; }

    /// <summary>Sender that has claimed it.</summary>
    public string? Owner { get; set; }

    /// <summary>Until when the claim holds.</summary>
    public Instant? LeaseUntil { get; set; }

    /// <summary>When it was written.</summary>
    public Instant MadeAt { get; set; }

    /// <summary>When it arrived.</summary>
    public Instant? DeliveredAt { get; set; }

    /// <summary>HTTP status of the last attempt; null where there was no answer.</summary>
    public int? LastStatus { get; set; }

    /// <summary>What the last attempt ran into, as a code; null after a good one.</summary>
    public string? LastError { get; set; }
}

/// <summary>Where a delivery stands.</summary>
public enum DeliveryState : byte
{
    /// <summary>Waiting for its time.</summary>
    Pending,

    /// <summary>Claimed by a sender.</summary>
    Sending,

    /// <summary>Taken by the receiver.</summary>
    Delivered,

    /// <summary>Given up.</summary>
    Failed,
}
