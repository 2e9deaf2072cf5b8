using System.Collections.Frozen;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;

namespace FruitWatch.Service.Web.OpenApi;

/// <summary>
/// A request to an operation and what is answered to it, as a file beside the operation: <c>Examples/AddBed.json</c>. The request is
/// written by hand, for the cooperative that the tests invent; the answer is written by the tests, which send it.
/// </summary>
/// <param name="After">The operation whose example has to be sent before this one.</param>
/// <param name="Path">Values in the address.</param>
/// <param name="Query">Values behind its question mark.</param>
/// <param name="Headers">Header fields.</param>
/// <param name="Body">The JSON that is sent.</param>
/// <param name="Text">A body that is no JSON.</param>
/// <param name="TextForm">The media type of such a body.</param>
/// <param name="OtherForms">The same answer in other media types than that of <paramref name="Answer"/>, by hand.</param>
/// <param name="Answer">What is answered.</param>
internal sealed record ApiExample(
    string? After,
    Dictionary<string, JsonNode>? Path,
    Dictionary<string, JsonNode>? Query,
    Dictionary<string, string>? Headers,
    JsonNode? Body,
    string? Text,
    string? TextForm,
    Dictionary<string, string>? OtherForms,
    ApiExampleAnswer? Answer)
{
    private const string Root = "examples/";

    public static JsonSerializerOptions Json { get; } = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        IndentSize = 2,
        NewLine = "\n",
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    };

    /// <summary>All that there are, by the name of their operation.</summary>
    public static FrozenDictionary<string, ApiExample> All { get; } = Load();

    /// <summary>Puts values of other examples' answers where <c>$AddFeed.id</c> stands for them.</summary>
    /// <param name="node">What may hold such names.</param>
    /// <param name="answerOf">The answer to an example by the name of its operation.</param>
    public static JsonNode? Fill(JsonNode? node, Func<string, JsonNode?> answerOf) => node switch
    {
        JsonObject json => new JsonObject(json.Select(pair => KeyValuePair.Create(pair.Key, Fill(pair.Value, answerOf)))),
        JsonArray list => new JsonArray([.. list.Select(one => Fill(one, answerOf))]),
        JsonValue value when value.TryGetValue<string>(out var text) && text is ['$', ..] && text.Split('.') is [var name, var field] =>
            answerOf(name[1..])?[field]?.DeepClone(),
        _ => node?.DeepClone(),
    };

    private static FrozenDictionary<string, ApiExample> Load()
    {
        var own = typeof(ApiExample).Assembly;
        return own.GetManifestResourceNames().Where(name => name.StartsWith(Root, StringComparison.Ordinal)).ToFrozenDictionary(
            name => name[Root.Length..],
            name =>
            {
                using var file = own.GetManifestResourceStream(name)!;
                return JsonSerializer.Deserialize<ApiExample>(file, Json) ?? throw new JsonException($"{name} is empty.");
            });
    }
}

/// <summary>What is answered to an example.</summary>
/// <param name="Status">The status.</param>
/// <param name="Headers">Header fields that belong to the answer: ETag and Location.</param>
/// <param name="Body">The JSON; of lists the first entries.</param>
/// <param name="Text">A body that is no JSON.</param>
internal sealed record ApiExampleAnswer(int Status, Dictionary<string, string>? Headers, JsonNode? Body, string? Text);
