using System.Reflection;

namespace FruitWatch.Feeds;

/// <summary>The descriptions that come with the program. Anyone can start from one and change it.</summary>
public static class FeedPresets
{
    private const string Folder = "presets/";

    private static readonly Lazy<IReadOnlyList<FeedDescription>> Shipped = new(ReadAll);

    private static readonly Lazy<string> Schema = new(() => Text("weather-feed.schema.json"));

    /// <summary>
    /// The JSON Schema (2020-12) of the language, for editors that check while one writes. What passes it is well-formed;
    /// whether it fits together is checked by <see cref="FeedDescription.Parse"/>.
    /// </summary>
    public static string SchemaJson => Schema.Value;

    /// <summary>By id.</summary>
    public static IReadOnlyList<FeedDescription> All => Shipped.Value;

    /// <summary>The preset of this id, or null.</summary>
    public static FeedDescription? Find(string id) => All.FirstOrDefault(preset => preset.Id == id);

    private static List<FeedDescription> ReadAll()
    {
        var assembly = Assembly.GetExecutingAssembly();
        return [.. assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Folder, StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Select(name => FeedDescription.Parse(Text(name)))];
    }

    private static string Text(string resource)
    {
        using var reader = new StreamReader(Assembly.GetExecutingAssembly().GetManifestResourceStream(resource)!);
        return reader.ReadToEnd();
    }
}
