using System.Reflection;

namespace FruitWatch.Feeds;

/// <summary>The descriptions that come with the program. Anyone can start from one and change it.</summary>
public static class FeedPresets
{
    private const string Folder = "presets/";

    private static readonly Lazy<IReadOnlyList<FeedDescription>> Shipped = new(ReadAll);

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
            .Select(name =>
            {
                using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!);
                return FeedDescription.Parse(reader.ReadToEnd());
            })];
    }
}
