using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A weather feed that a cooperative uses, and how it has been answering.</summary>
public sealed class Feed : IEdited
{
    /// <summary>Key of the row.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>Short name for addresses and files; once per cooperative.</summary>
    public required string Key { get; set; }

    /// <summary>What its users call it.</summary>
    public required string Title { get; set; }

    /// <summary>How it is read: the <c>weather-feed/1</c> description, as JSON text.</summary>
    public required string Description { get; set; }

    /// <summary>When it last gave days that could be used.</summary>
    public Instant? LastGoodAt { get; set; }

    /// <summary>When it was last asked.</summary>
    public Instant? LastTriedAt { get; set; }

    /// <summary>Why the last try gave nothing: a code and a sentence; null after a good one.</summary>
    public string? LastProblem { get; set; }

    /// <summary>Tries without a good answer since the last good one.</summary>
    public int FailuresInARow { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;
}
