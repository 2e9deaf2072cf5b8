using System.Globalization;
using System.Text.Json;

namespace FruitWatch.Feeds.Describing;

/// <summary>
/// A JSON pointer (RFC 6901). Evaluated by ourselves: a query language drops what it does not find, and zipping what is left
/// moves every later value one step; a pointer says "absent" for that one record.
/// </summary>
internal sealed class JsonPointer
{
    private readonly string[] tokens;

    private JsonPointer(string text, string[] tokens) => (Text, this.tokens) = (text, tokens);

    /// <summary>Points at the whole document.</summary>
    public static JsonPointer Root { get; } = new("", []);

    public string Text { get; }

    public static JsonPointer? TryParse(string text)
    {
        if (text.Length == 0)
            return new JsonPointer(text, []);
        if (text[0] != '/')
            return null;
        var parts = text[1..].Split('/');
        for (var i = 0; i < parts.Length; i++)
        {
            if (!IsEscapedWell(parts[i]))
                return null;
            parts[i] = parts[i].Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal);
        }
        return new JsonPointer(text, parts);
    }

    /// <summary>What the pointer points at, or null where it is absent. Never throws on data.</summary>
    public JsonElement? Evaluate(JsonElement document)
    {
        var here = document;
        foreach (var token in tokens)
        {
            if (here.ValueKind == JsonValueKind.Object && here.TryGetProperty(token, out var member))
                here = member;
            else if (here.ValueKind == JsonValueKind.Array && Index(token) is { } index && index < here.GetArrayLength())
                here = here[index];
            else
                return null;
        }
        return here;
    }

    /// <summary>The pointer to what holds this one, and the name in it.</summary>
    public (JsonPointer Pointer, string Name) Parent() =>
        tokens.Length == 0 ? (this, "") : (new JsonPointer(Text[..Text.LastIndexOf('/')], tokens[..^1]), tokens[^1]);

    /// <summary>The pointer to a sibling whose name has <paramref name="suffix"/> behind it; a member of an ensemble.</summary>
    public JsonPointer WithSuffix(string suffix)
    {
        if (suffix.Length == 0 || tokens.Length == 0)
            return this;
        string[] changed = [.. tokens];
        changed[^1] += suffix;
        return new JsonPointer(Text + Escape(suffix), changed);
    }

    public override string ToString() => Text;

    internal static string Escape(string token) =>
        token.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal);

    private static bool IsEscapedWell(string token)
    {
        for (var at = token.IndexOf('~', StringComparison.Ordinal); at >= 0; at = token.IndexOf('~', at + 1))
        {
            if (at + 1 >= token.Length || token[at + 1] is not ('0' or '1'))
                return false;
        }
        return true;
    }

    // "-" (the place after the last element) and a leading zero name no element.
    private static int? Index(string token) =>
        (token == "0" || (token.Length > 0 && token[0] != '0'))
        && int.TryParse(token, NumberStyles.None, CultureInfo.InvariantCulture, out var index)
            ? index
            : null;
}
