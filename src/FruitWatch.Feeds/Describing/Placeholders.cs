using System.Text.RegularExpressions;

namespace FruitWatch.Feeds.Describing;

/// <summary>The names in braces that stand for the site, the dates and the key.</summary>
internal static partial class Placeholders
{
    public static IReadOnlyList<string> Known { get; } =
        ["latitude", "longitude", "altitude", "start", "end", "back", "ahead", "timeZone", "station", "key", "userAgent"];

    public static IReadOnlySet<string> In(string text) =>
        Braced().Matches(text).Select(match => match.Groups[1].Value).ToHashSet();

    /// <summary>Refuses names that stand for nothing.</summary>
    /// <param name="place">Where the text stands.</param>
    /// <param name="text">With names in braces.</param>
    /// <param name="captured">Names that earlier discovery steps give a value.</param>
    public static void Check(DescriptionPlace place, string text, IReadOnlySet<string>? captured = null)
    {
        var known = Known.Union(captured ?? new HashSet<string>()).ToList();
        foreach (var name in In(text).Where(name => !known.Contains(name)))
            place.Refuse($"There is no placeholder {{{FailureDescription.Quoted(name)}}}.", $"Use one of: {string.Join(", ", known)}.");
        if (Braced().Replace(text, "").IndexOfAny(['{', '}']) >= 0)
            place.Refuse("A brace stands alone.", "Write placeholders as {name}; a brace in an address is %7B or %7D.");
    }

    /// <summary>The one name a text consists of, or null.</summary>
    public static string? Whole(string text) => Braced().Match(text) is { Success: true } match && match.Length == text.Length ? match.Groups[1].Value : null;

    /// <summary>Puts values in place of the names.</summary>
    public static string Fill(string text, Func<string, string> valueOf) => Braced().Replace(text, match => valueOf(match.Groups[1].Value));

    [GeneratedRegex(@"\{([^{}]*)\}")]
    private static partial Regex Braced();
}
