using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// Something done to or seen at a bed. Entries are never deleted: an undone one keeps its row and counts no more. A correction is
/// a new entry that names the one it replaces, which is undone in the same transaction.
/// </summary>
public sealed class LogEntry : IEdited
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>The bed.</summary>
    public long BedId { get; set; }

    /// <summary>The site's local day on which it counts.</summary>
    public LocalDate On { get; set; }

    /// <summary>Local time of day; orders the entries of one day.</summary>
    public LocalTime At { get; set; } = LocalTime.Noon;

    /// <summary>What kind of entry: the name of its type in the model, in words of the web API, such as <c>water-given</c>.</summary>
    public required string Kind { get; set; }

    /// <summary>How much, in the unit of the kind: [mm] of water, [kg] picked, a share 0…1; null where the kind has none.</summary>
    public double? Amount { get; set; }

    /// <summary>Which, where the kind asks: squeeze class, cover, key of a material.</summary>
    public string? Text { get; set; }

    /// <summary>Depth of what was laid on top. [m]</summary>
    public double? Depth { get; set; }

    /// <summary>What the grower added in words.</summary>
    public string? Note { get; set; }

    /// <summary>When it reached the service.</summary>
    public Instant RecordedAt { get; set; }

    /// <summary>Who recorded it: a person, a label, a token; null where nobody was known.</summary>
    public string? RecordedBy { get; set; }

    /// <summary>When it was undone or replaced; null while it counts.</summary>
    public Instant? UndoneAt { get; set; }

    /// <summary>The entry that this one corrects.</summary>
    public long? ReplacesId { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;
}
