using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>
/// Who did what. Written in the transaction of what it tells, never changed, and kept for two years. Holds keys and not names, so that
/// a person who is removed is gone from here too.
/// </summary>
public sealed class AuditEntry
{
    /// <summary>Key; in the order in which things happened.</summary>
    public long Id { get; set; }

    /// <summary>When.</summary>
    public Instant At { get; set; }

    /// <summary>In which cooperative; null for what concerns the service or an account.</summary>
    public long? CooperativeId { get; set; }

    /// <summary>Who did it; null for the service itself, the terminal, or somebody unknown.</summary>
    public long? PersonId { get; set; }

    /// <summary>Which way they came: <c>session</c>, <c>token:12</c>, <c>link:3</c>, <c>terminal</c>, <c>nobody</c>.</summary>
    public required string Via { get; set; }

    /// <summary>What was done: subject and deed, such as <c>bed.changed</c> or <c>sign-in.refused</c>.</summary>
    public required string Action { get; set; }

    /// <summary>Key of what it was done to; null where there is none.</summary>
    public string? SubjectId { get; set; }

    /// <summary>More about it as a JSON object, such as the fields that changed; no secret and no text of anybody's. Null for none.</summary>
    public string? Detail { get; set; }
}
