using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Json.Schema;

namespace FruitWatch.Service.Tests.Api.Contract;

/// <summary>The description of the API as a promise: whether an answer is one of those that it allows.</summary>
internal sealed partial class ApiContract
{
    // Refused before any operation is found, and told once for all of them in the description's head.
    private static readonly int[] s_everywhere = [404, 405, 414, 431];

    private readonly List<DescribedOperation> operations = [];
    private readonly Dictionary<string, JsonSchema> schemas = [];
    private readonly JsonObject definitions;
    private readonly Lock gate = new();

    public ApiContract(string document)
    {
        var root = JsonNode.Parse(document.Replace("#/components/schemas/", "#/$defs/", StringComparison.Ordinal))!.AsObject();
        Document = root;
        definitions = root["components"]!["schemas"]!.AsObject();
        Close(definitions);
        foreach (var (path, methods) in root["paths"]!.AsObject())
        {
            foreach (var (method, operation) in methods!.AsObject())
                operations.Add(new DescribedOperation(method.ToUpperInvariant(), path, operation!.AsObject(), Pattern(path)));
        }
    }

    public JsonObject Document { get; }

    public IReadOnlyList<DescribedOperation> Operations => operations;

    public DescribedOperation? Find(string method, string path)
    {
        var asked = method == "HEAD" ? "GET" : method;
        var bare = path.Split('?')[0];
        // An address without a placeholder goes before one with.
        return operations.Where(operation => operation.Method == asked && operation.Pattern.IsMatch(bare)).MinBy(operation => operation.Path.Count(c => c == '{'));
    }

    /// <summary>What is wrong with an answer; null where it is as described.</summary>
    public string? Check(string method, string path, int status, string? form, string? body)
    {
        if (status >= 400 && method != "HEAD" && form != "application/problem+json")
            return $"{status} is no problem+json but {form ?? "nothing"}: {body}";
        if (Find(method, path) is not { } operation)
            return s_everywhere.Contains(status) || status is 401 or 429 ? null : $"{status} at an address that is not described";
        if (Response(operation, status) is not { } response)
            return s_everywhere.Contains(status) ? null : $"{status} is not described for {operation.Id}";
        if (body is null || method == "HEAD")
            return null;
        var content = response["content"]?.AsObject();
        if (content is null)
            return body.Length > 0 ? $"{operation.Id} answers {status} with a body, which is not described: {body}" : null;
        if (form is null || content[form] is not { } described)
            return $"{operation.Id} answers {status} as {form ?? "nothing"}, which is not described";
        return form.EndsWith("json", StringComparison.Ordinal) ? Validate(described["schema"]!, body) : null;
    }

    /// <summary>What is wrong with JSON by a schema of the document; null where nothing is.</summary>
    public string? Validate(JsonNode schema, string json)
    {
        JsonSchema known;
        var text = schema.ToJsonString();
        lock (gate)
        {
            if (!schemas.TryGetValue(text, out known!))
            {
                var whole = new JsonObject { ["$schema"] = "https://json-schema.org/draft/2020-12/schema", ["allOf"] = new JsonArray(schema.DeepClone()), ["$defs"] = Reached(schema) };
                schemas[text] = known = JsonSchema.FromText(whole.ToJsonString());
            }
        }

        var node = JsonNode.Parse(json);
        if (known.Evaluate(node, new EvaluationOptions { OutputFormat = OutputFormat.Flag, RequireFormatValidation = true }).IsValid)
            return null;
        var found = known.Evaluate(node, new EvaluationOptions { OutputFormat = OutputFormat.List, RequireFormatValidation = true });
        // The deepest first: that a value fits none of several is only the end of the story.
        return string.Join("; ", found.Details.Where(detail => detail.HasErrors).OrderByDescending(detail => detail.InstanceLocation.ToString().Count(c => c == '/'))
            .SelectMany(detail => detail.Errors!.Select(error => $"{detail.InstanceLocation} {error.Key}: {error.Value}")).Where(error => !error.EndsWith("should be \"null\"", StringComparison.Ordinal)).Take(6));
    }

    /// <summary>A described answer, its reference followed.</summary>
    public JsonObject? Response(DescribedOperation operation, int status) =>
        Followed(operation.Json["responses"]![status.ToString(System.Globalization.CultureInfo.InvariantCulture)]);

    /// <summary>What a reference stands for.</summary>
    public JsonObject? Followed(JsonNode? node)
    {
        if (node?["$ref"]?.GetValue<string>() is not { } to || !to.StartsWith("#/components/", StringComparison.Ordinal))
            return node?.AsObject();
        var parts = to["#/components/".Length..].Split('/');
        return Document["components"]![parts[0]]![parts[1]]!.AsObject();
    }

    // Only the definitions that a schema leads to: all of them would be read anew for each.
    private JsonObject Reached(JsonNode schema)
    {
        var reached = new JsonObject();
        var left = new Queue<JsonNode>([schema]);
        while (left.TryDequeue(out var node))
        {
            foreach (Match to in Reference().Matches(node.ToJsonString()))
            {
                var name = to.Groups[1].Value;
                if (reached.ContainsKey(name))
                    continue;
                reached[name] = definitions[name]!.DeepClone();
                left.Enqueue(reached[name]!);
            }
        }

        return reached;
    }

    [GeneratedRegex("\"#/\\$defs/([^\"]+)\"")]
    private static partial Regex Reference();

    private static Regex Pattern(string path) =>
        new("^" + Regex.Replace(Regex.Escape(path), @"\\\{[^}]*}", "[^/]+") + "/?$", RegexOptions.CultureInvariant);

    // The description allows what it does not name, so that names can be added; here nothing may be given that it does not name.
    private static void Close(JsonNode? node)
    {
        if (node is JsonObject json)
        {
            if (json["properties"] is JsonObject && json["type"] is not null && json["additionalProperties"] is null)
                json["additionalProperties"] = false;
            foreach (var (_, inner) in json.ToList())
                Close(inner);
        }
        else if (node is JsonArray list)
        {
            foreach (var inner in list)
                Close(inner);
        }
    }
}

/// <summary>An operation of the document.</summary>
internal sealed record DescribedOperation(string Method, string Path, JsonObject Json, Regex Pattern)
{
    public string Id => Json["operationId"]!.GetValue<string>();

    public override string ToString() => Id;
}
