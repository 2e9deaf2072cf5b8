using NodaTime;

namespace FruitWatch.Feeds.Describing;

/// <summary>What a number of a series stands for in time.</summary>
internal enum Support
{
    /// <summary>That moment.</summary>
    Instant,

    /// <summary>The period before the stamp.</summary>
    Preceding,

    /// <summary>The period after the stamp.</summary>
    Following,

    /// <summary>The start and end the feed gives.</summary>
    Interval,

    /// <summary>The date, as the time's <c>dayEnds</c> says.</summary>
    Day,

    /// <summary>A running total; the rise since the reading before is what fell.</summary>
    Counter,
}

/// <summary>One of the places a record may have a value in, and the length of time from its stamp the value is for.</summary>
internal sealed record AlternativeDescription(JsonPointer At, Duration Period);

/// <summary>The condition under which a row belongs to a series.</summary>
internal sealed record WhereDescription(FieldLocator Locator, string? EqualTo);

/// <summary>A mark in the row that makes its value bad.</summary>
/// <param name="Locator">Where the mark is.</param>
/// <param name="Part">Which comma-separated part of the field carries the mark; the whole field if null.</param>
/// <param name="NotBlank">Any mark at all.</param>
/// <param name="In">These marks.</param>
internal sealed record RejectDescription(FieldLocator Locator, int? Part, bool NotBlank, IReadOnlyList<string> In)
{
    public bool Rejects(string? field)
    {
        var mark = field ?? "";
        if (Part is { } part)
            mark = mark.Split(',') is var parts && part < parts.Length ? parts[part] : "";
        mark = mark.Trim();
        return NotBlank ? mark.Length > 0 : In.Contains(mark);
    }
}

/// <summary>The suffixes of an ensemble's members.</summary>
internal sealed record MembersDescription(string Suffix, int First, int Last, bool IncludeBase)
{
    public const string Base = "base";

    /// <summary>Each member's label and the suffix of its field's name.</summary>
    public IEnumerable<(string Label, string Suffix)> All()
    {
        if (IncludeBase)
            yield return (Base, "");
        for (var number = First; number <= Last; number++)
        {
            var label = number.ToString("00", System.Globalization.CultureInfo.InvariantCulture);
            yield return (label, Suffix.Replace("{nn}", label, StringComparison.Ordinal));
        }
    }
}

/// <summary>One series of numbers in an answer: where it is, in what unit, what its numbers stand for.</summary>
internal sealed partial record SeriesDescription
{
    /// <summary>A reading is taken to hold at most this long when the description does not say.</summary>
    public static readonly Duration UsualMaxGap = Duration.FromHours(3);

    public string Name { get; private init; } = "";

    /// <summary>Where its values are; null if it has alternatives.</summary>
    public FieldLocator Locator { get; private init; } = null!;

    /// <summary>The list of records it is read from, where the series has its own.</summary>
    public JsonPointer? Records { get; private init; }

    /// <summary>Places that hold the value for periods of different length; the longest that fits is taken.</summary>
    public IReadOnlyList<AlternativeDescription> Alternatives { get; private init; } = [];

    /// <summary>Where its values are in each record: one place, or one for each alternative.</summary>
    public IReadOnlyList<JsonPointer> Pointers =>
        Alternatives.Count > 0 ? [.. Alternatives.Select(one => one.At)] : Locator.Pointer is { } pointer ? [pointer] : [];

    public IReadOnlyList<WhereDescription> Where { get; private init; } = [];

    public IReadOnlyList<RejectDescription> RejectIf { get; private init; } = [];

    public Unit Unit { get; private init; } = Unit.All[0];

    public JsonPointer? UnitDeclaredAt { get; private init; }

    public double Scale { get; private init; } = 1;

    public Support Support { get; private init; }

    public Duration? Period { get; private init; }

    public Duration MaxGap { get; private init; } = UsualMaxGap;

    public IReadOnlyList<string> Missing { get; private init; } = [];

    public IReadOnlyList<string> ZeroTokens { get; private init; } = [];

    /// <summary>Limits of a single value in the model's unit. [°C, mm or %]</summary>
    public (double Low, double High) Plausible { get; private init; }

    public MembersDescription? Members { get; private init; }

    public bool Optional { get; private init; }
}
