using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A write that came with an Idempotency-Key, and what was answered, so that the same write sent again is done once.</summary>
public sealed class IdempotentRequest
{
    /// <summary>Who sent it: a token's key, such as <c>token:12</c>.</summary>
    public required string Caller { get; set; }

    /// <summary>The key that was sent.</summary>
    public required string Key { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>SHA-256 of method, address and body, in hexadecimal.</summary>
    public required string Fingerprint { get; set; }

    /// <summary>When it came.</summary>
    public Instant StartedAt { get; set; }

    /// <summary>HTTP status that was answered; null while it is being done.</summary>
    public int? Status { get; set; }

    /// <summary>Header fields of the answer, as a JSON object.</summary>
    public string? Headers { get; set; }

    /// <summary>Body of the answer.</summary>
    public string? Body { get; set; }
}
