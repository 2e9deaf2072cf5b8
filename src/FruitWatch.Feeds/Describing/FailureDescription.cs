using System.Text.Json;

namespace FruitWatch.Feeds.Describing;

/// <summary>Where a feed says that it failed, and why.</summary>
internal sealed record FailureDescription(JsonPointer FlagAt, string? EqualTo, JsonPointer MessageAt)
{
    private const int LongestReason = 300;

    public static FailureDescription? From(DescriptionPlace? place)
    {
        if (place is null || !place.Object("flagAt!", "equals", "messageAt!"))
            return null;
        var equals = place.Member("equals")?.Element.GetRawText();
        return place.At("flagAt") is { } flag && place.At("messageAt") is { } message
            ? new FailureDescription(flag, equals, message)
            : null;
    }

    /// <summary>The feed's own words about its failure, or null where it reports none.</summary>
    public string? ReasonIn(JsonElement document)
    {
        if (FlagAt.Evaluate(document) is not { ValueKind: not JsonValueKind.Null } flag)
            return null;
        if (EqualTo is not null && flag.GetRawText() != EqualTo)
            return null;
        var reason = MessageAt.Evaluate(document) is { } message ? CellText.Of(message) : null;
        return Quoted(reason ?? "no reason given");
    }

    /// <summary>Foreign text made fit for a message: one line, no control characters, not too long.</summary>
    internal static string Quoted(string text)
    {
        var line = new string([.. text.Select(letter => char.IsControl(letter) ? ' ' : letter)]).Trim();
        return line.Length <= LongestReason ? line : line[..LongestReason] + "…";
    }
}
