using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>What a round said of a bed: kept unaltered, so that it can be compared with what happened.</summary>
public sealed class OutlookIssued
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>The bed.</summary>
    public long BedId { get; set; }

    /// <summary>The site's local day; one outlook per bed and day.</summary>
    public LocalDate On { get; set; }

    /// <summary>When it was issued.</summary>
    public Instant IssuedAt { get; set; }

    /// <summary>Which model made it.</summary>
    public required string ModelVersion { get; set; }

    /// <summary>Fruiting suitability of the day. 0…100</summary>
    public double Score { get; set; }

    /// <summary>Phase of the bed, by its name in the model.</summary>
    public required string Phase { get; set; }

    /// <summary>The rest of the outlook as compact JSON.</summary>
    public required string Payload { get; set; }
}
