using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace FruitWatch.Service.Web.OpenApi;

/// <summary>The description of the API for people who read it in a browser: made once, from the document that programs get.</summary>
internal sealed partial class ApiGuide([FromKeyedServices("v1")] IOpenApiDocumentProvider documents)
{
    private JsonObject? document;

    // Two readers at first may both make it: it is the same.
    public async Task<ApiPages> ReadAsync(CancellationToken stop) =>
        new(document ??= JsonNode.Parse(await (await documents.GetOpenApiDocumentAsync(stop)).SerializeAsJsonAsync(OpenApiSpecVersion.OpenApi3_1, stop))!.AsObject());

    /// <summary>Text of the document as HTML: paragraphs, strong words and code, and nothing else.</summary>
    public static string Html(string? text) => string.Concat((text ?? "").Split("\n\n", StringSplitOptions.RemoveEmptyEntries)
        .Select(paragraph => $"<p>{Strong().Replace(Code().Replace(WebUtility.HtmlEncode(paragraph), "<code>$1</code>"), "<strong>$1</strong>")}</p>"));

    [GeneratedRegex(@"\*\*(.+?)\*\*")]
    private static partial Regex Strong();

    [GeneratedRegex("`(.+?)`")]
    private static partial Regex Code();
}

/// <summary>The document, by what a page shows of it.</summary>
internal sealed class ApiPages(JsonObject document)
{
    public JsonObject Document => document;

    /// <summary>Operations by tag, in the order of the tags.</summary>
    public IEnumerable<(string Tag, string About, IReadOnlyList<ApiOperation> Operations)> Groups
    {
        get
        {
            var all = document["paths"]!.AsObject().SelectMany(path => path.Value!.AsObject().Select(one => new ApiOperation(one.Key.ToUpperInvariant(), path.Key, one.Value!.AsObject()))).ToList();
            return document["tags"]!.AsArray().Select(tag => (
                Text(tag!["name"]), Text(tag["description"]), (IReadOnlyList<ApiOperation>)[.. all.Where(one => one.Tags.Contains(Text(tag["name"])))]));
        }
    }

    public IEnumerable<KeyValuePair<string, JsonNode?>> Schemas => document["components"]!["schemas"]!.AsObject().OrderBy(schema => schema.Key, StringComparer.Ordinal);

    /// <summary>What a reference stands for; the node itself where it is none.</summary>
    public JsonObject Followed(JsonNode node)
    {
        if (node["$ref"] is not { } to)
            return node.AsObject();
        var parts = Text(to).Split('/');
        return document["components"]![parts[2]]![parts[3]]!.AsObject();
    }

    /// <summary>A type in words, and the schema that it leads to; null for none.</summary>
    public static (string Words, string? Schema) TypeOf(JsonNode? schema)
    {
        if (schema is null)
            return ("anything", null);
        if (schema["$ref"] is { } to)
            return (Text(to).Split('/')[^1], Text(to).Split('/')[^1]);
        if (schema["oneOf"] is JsonArray several)
        {
            var (words, name) = TypeOf(several.First(one => Words(one!["type"]) != "null"));
            return ($"{words} or null", name);
        }

        if (schema["type"] is { } type && Words(type).Contains("array", StringComparison.Ordinal))
        {
            var (words, name) = TypeOf(schema["items"]);
            return ($"list of {words}{(Words(type).Contains("null", StringComparison.Ordinal) ? " or null" : "")}", name);
        }

        if (schema["additionalProperties"] is JsonObject values)
        {
            var (words, name) = TypeOf(values);
            return ($"{words} by name", name);
        }

        var format = schema["format"] is { } said ? $" ({Text(said)})" : "";
        return ((schema["type"] is { } known ? Words(known) : "word") + format, null);
    }

    public static string Text(JsonNode? node) => node?.GetValue<string>() ?? "";

    private static string Words(JsonNode? type) => type switch
    {
        JsonArray several => string.Join(" or ", several.Select(one => one!.GetValue<string>()).OrderBy(one => one == "null")),
        null => "",
        _ => type.GetValue<string>(),
    };
}

/// <summary>An operation as a page shows it.</summary>
internal sealed record ApiOperation(string Method, string Path, JsonObject Json)
{
    public string Id => ApiPages.Text(Json["operationId"]);

    public IReadOnlyList<string> Tags => [.. Json["tags"]!.AsArray().Select(ApiPages.Text)];
}
