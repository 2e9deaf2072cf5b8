using System.Text.Json.Nodes;

namespace FruitWatch.Feeds.Tests.Describing;

/// <summary>A description with one thing changed, at every place in turn.</summary>
internal static class Mutations
{
    private static readonly string[] Replacements = ["null", "\"x\"", "\"\"", "7", "-1", "1.5", "true", "[]", "{}", "[\"x\"]"];

    /// <summary>Every member removed, replaced by a value of each kind, and every object given a member more.</summary>
    public static IEnumerable<(string Path, string What, string Text)> Of(string json)
    {
        foreach (var path in Paths(JsonNode.Parse(json)!, ""))
        {
            if (path.Length > 0)
                yield return (path, "removed", Changed(json, path, (parent, name) => Remove(parent, name)));
            foreach (var replacement in Replacements.Where(_ => path.Length > 0))
                yield return (path, replacement, Changed(json, path, (parent, name) => Put(parent, name, JsonNode.Parse(replacement))));
            if (At(JsonNode.Parse(json)!, path) is JsonObject)
                yield return (path, "a member more", Changed(json, path + "/zz", (parent, name) => Put(parent, name, "x")));
        }
    }

    private static IEnumerable<string> Paths(JsonNode node, string path)
    {
        yield return path;
        var below = node switch
        {
            JsonObject members => members.Where(one => one.Value is not null).SelectMany(one => Paths(one.Value!, $"{path}/{one.Key.Replace("/", "~1", StringComparison.Ordinal)}")),
            JsonArray items => items.SelectMany((item, i) => Paths(item!, $"{path}/{i}")),
            _ => [],
        };
        foreach (var one in below)
            yield return one;
    }

    private static string Changed(string json, string path, Action<JsonNode, string> change)
    {
        var root = JsonNode.Parse(json)!;
        var cut = path.LastIndexOf('/');
        change(At(root, path[..cut]), path[(cut + 1)..].Replace("~1", "/", StringComparison.Ordinal));
        return root.ToJsonString();
    }

    private static JsonNode At(JsonNode root, string path) =>
        path.Split('/', StringSplitOptions.RemoveEmptyEntries).Aggregate(root, (node, name) =>
            node is JsonArray list ? list[Index(name)]! : node[name.Replace("~1", "/", StringComparison.Ordinal)]!);

    private static void Remove(JsonNode parent, string name)
    {
        if (parent is JsonArray list)
            list.RemoveAt(Index(name));
        else
            parent.AsObject().Remove(name);
    }

    private static void Put(JsonNode parent, string name, JsonNode? value)
    {
        if (parent is JsonArray list)
            list[Index(name)] = value;
        else
            parent[name] = value;
    }

    private static int Index(string name) => int.Parse(name, System.Globalization.CultureInfo.InvariantCulture);
}
