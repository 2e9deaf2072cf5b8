using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace FruitWatch.Service.Feeds;

/// <summary>The text of a feed's description: what can be said of it and done to it without reading it as a description.</summary>
internal static class DescriptionText
{
    /// <summary>A text for people: degree signs stand as they are.</summary>
    private static readonly JsonSerializerOptions s_readable =
        new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The text in lines, as a person edits it; unchanged where it is no JSON or has lines already.</summary>
    public static string InLines(string json) =>
        json.TrimEnd().Contains('\n', StringComparison.Ordinal) || Parse(json) is not { } node ? json : node.ToJsonString(s_readable);

    /// <summary>The text with one value put in another's place; null where nothing can be put there.</summary>
    /// <param name="json">A description.</param>
    /// <param name="pointer">JSON pointer (RFC 6901) to a member; its parent must be there.</param>
    /// <param name="value">JSON text.</param>
    public static string? With(string json, string pointer, string value)
    {
        if (Parse(json) is not { } root || Parse(value) is not { } put || !pointer.StartsWith('/'))
            return null;
        var steps = pointer[1..].Split('/').Select(Unescape).ToArray();
        var at = steps[..^1].Aggregate((JsonNode?)root, Step);
        switch (at)
        {
            case JsonObject parent:
                parent[steps[^1]] = put;
                break;
            case JsonArray list when int.TryParse(steps[^1], out var index) && index >= 0 && index < list.Count:
                list[index] = put;
                break;
            default:
                return null;
        }

        return root.ToJsonString(s_readable);
    }

    /// <summary>
    /// The text with a unit mended. Who took °F for °C in one series did so in the others that say the same; mended in one alone, a
    /// maximum would lie below its minimum.
    /// </summary>
    /// <inheritdoc cref="With"/>
    public static string? Mended(string json, string pointer, string value)
    {
        var steps = pointer.Split('/');
        if (steps is not ["", "series", var name, .. var inner] || (Parse(json) as JsonObject)?["series"] is not JsonObject all || UnitOf(all[name]) is not { } unit)
            return With(json, pointer, value);
        // How much rain fell has nothing to do with the thermometer; its series is mended alone.
        var same = unit is "Cel" or "[degF]" or "K" ? all.Where(one => UnitOf(one.Value) == unit).Select(one => Escape(one.Key)) : [name];
        return same.Aggregate((string?)json, (text, one) => text is null ? null : With(text, string.Join('/', ["", "series", one, .. inner]), value));
    }

    /// <summary>Scheme, name and port of every host that a description asks; whoever holds a key must know where it goes.</summary>
    public static IReadOnlySet<string> Hosts(string json)
    {
        var request = (Parse(json) as JsonObject)?["request"] as JsonObject;
        var steps = (request?["steps"] as JsonArray)?.OfType<JsonObject>().Select(step => step["url"]) ?? [];
        return steps.Append(request?["url"]).Append(request?["mustStayOnHost"]).Select(Text).OfType<string>().Select(HostOf).ToHashSet(StringComparer.OrdinalIgnoreCase);
    }

    /// <summary>Most bytes of an answer that a description takes; 0 where it does not say.</summary>
    public static int MostBytes(string json) =>
        ((Parse(json) as JsonObject)?["request"] as JsonObject)?["maxBytes"] is JsonValue value && value.TryGetValue<int>(out var most) ? most : 0;

    /// <summary>Whether the days asked for are part of the address, so that fewer can be asked for.</summary>
    public static bool AsksByDay(string json)
    {
        var url = Text(((Parse(json) as JsonObject)?["request"] as JsonObject)?["url"]) ?? "";
        return url.Contains("{start}", StringComparison.Ordinal) || url.Contains("{back}", StringComparison.Ordinal);
    }

    /// <summary>Whether it tells of past days only.</summary>
    public static bool IsHistory(string json) => Text((Parse(json) as JsonObject)?["provides"]) == "history";

    /// <summary>Line of the text that a JSON pointer leads to, from 1; of what is nearest above it where it is not there.</summary>
    public static int LineOf(string json, string pointer)
    {
        var bytes = Encoding.UTF8.GetBytes(json);
        var reader = new Utf8JsonReader(bytes, new JsonReaderOptions { MaxDepth = 64 });
        var at = new Stack<(string Pointer, int Index)>();
        var (best, longest, here) = (0L, -1, "");
        try
        {
            while (reader.Read())
            {
                if (reader.TokenType is JsonTokenType.EndObject or JsonTokenType.EndArray)
                {
                    at.Pop();
                    continue;
                }

                if (reader.TokenType == JsonTokenType.PropertyName)
                {
                    here = $"{at.Peek().Pointer}/{Escape(reader.GetString()!)}";
                    Meet(here, reader.TokenStartIndex);
                    continue;
                }

                if (at.TryPeek(out var parent) && parent.Index >= 0)
                {
                    at.Pop();
                    at.Push((parent.Pointer, parent.Index + 1));
                    here = FormattableString.Invariant($"{parent.Pointer}/{parent.Index}");
                    Meet(here, reader.TokenStartIndex);
                }

                if (reader.TokenType is JsonTokenType.StartObject or JsonTokenType.StartArray)
                    at.Push((here, reader.TokenType == JsonTokenType.StartArray ? 0 : -1));
            }
        }
        catch (JsonException)
        {
            // What was met before the fault is as near as one can come.
        }

        return 1 + bytes.AsSpan(0, (int)best).Count((byte)'\n');

        void Meet(string met, long start)
        {
            if (met.Length > longest && (pointer == met || pointer.StartsWith(met + "/", StringComparison.Ordinal)))
                (best, longest) = (start, met.Length);
        }
    }

    private static JsonNode? Parse(string json)
    {
        try
        {
            return JsonNode.Parse(json, documentOptions: new JsonDocumentOptions { AllowDuplicateProperties = false, MaxDepth = 16 });
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static JsonNode? Step(JsonNode? at, string step) => at switch
    {
        JsonObject members => members[step],
        JsonArray items when int.TryParse(step, out var index) && index >= 0 && index < items.Count => items[index],
        _ => null,
    };

    private static string? Text(JsonNode? node) => node is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;

    private static string? UnitOf(JsonNode? series) => Text(((series as JsonObject)?["unit"] as JsonObject)?["code"]);

    private static string HostOf(string url)
    {
        var slashes = url.IndexOf("//", StringComparison.Ordinal);
        var end = slashes < 0 ? -1 : url.IndexOfAny(['/', '?', '#'], slashes + 2);
        return end < 0 ? url : url[..end];
    }

    private static string Unescape(string step) => step.Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal);

    private static string Escape(string name) => name.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal);
}
