using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>Species and materials of one catalogue file, and the problems met while reading it.</summary>
internal sealed partial class CatalogueFile
{
    private static readonly JsonDocumentOptions s_lenient = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    public SortedDictionary<string, Species> Species { get; } = new(StringComparer.Ordinal);

    public SortedDictionary<string, Material> Materials { get; } = new(StringComparer.Ordinal);

    public List<CatalogueProblem> Problems { get; } = [];

    /// <summary>Reads a file whole; looks up <paramref name="others"/> for materials that are not in it.</summary>
    public static CatalogueFile Read(string json, IReadOnlyDictionary<string, Material> others)
    {
        var file = new CatalogueFile();
        if (OpenRoot(json, file.Problems) is not { } root)
            return file;
        ReadSection(root, "materials", file.Materials, MaterialReader.Read);
        ReadSection(root, "species", file.Species, SpeciesReader.Read);
        root.Close();
        file.NoteUnknownMaterials(root, others);
        return file;
    }

    /// <summary>The file's outermost object, its version checked; null, and noted, where there is none.</summary>
    public static CatalogueObject? OpenRoot(string json, List<CatalogueProblem> problems)
    {
        const string expected = "an object with version, species and materials";
        try
        {
            using var document = JsonDocument.Parse(json, s_lenient);
            ReadEveryText(document.RootElement);
            var root = CatalogueObject.Open(document.RootElement.Clone(), "", problems, expected);
            root?.Whole("version", new Limits(1, 1));
            return root;
        }
        catch (JsonException exception)
        {
            // The reader counts lines and bytes from 0; an editor counts from 1.
            var place = string.Create(
                CultureInfo.InvariantCulture,
                $"JSON that breaks off at line {exception.LineNumber + 1}, byte {exception.BytePositionInLine + 1}");
            problems.Add(new("", place, expected));
            return null;
        }
        catch (Exception exception) when (exception is ArgumentException or InvalidOperationException)
        {
            problems.Add(new("", "a text with half a character, such as \\ud800", "Unicode text"));
            return null;
        }
    }

    // Half of a surrogate pair is an ArgumentException to the parser where it stands plainly; written as an escape it is
    // found out only when the text is asked for, which then throws InvalidOperationException.
    private static void ReadEveryText(JsonElement json)
    {
        switch (json.ValueKind)
        {
            case JsonValueKind.String:
                json.GetString();
                break;
            case JsonValueKind.Array:
                foreach (var item in json.EnumerateArray())
                    ReadEveryText(item);
                break;
            case JsonValueKind.Object:
                foreach (var field in json.EnumerateObject())
                {
                    _ = field.Name;
                    ReadEveryText(field.Value);
                }

                break;
        }
    }

    private static void ReadSection<T>(CatalogueObject root, string name, SortedDictionary<string, T> into, Func<string, CatalogueObject, T> read)
    {
        if (!root.May(name) || root.Object(name, $"{name} by key") is not { } section)
            return;
        foreach (var key in section.Names)
        {
            if (!Key().IsMatch(key))
                section.Note(key, $"the key \"{key}\"", "a key of small letters, digits and single hyphens, such as wine-cap");
            if (section.Object(key, "an object") is { } entry)
                into[key] = read(key, entry);
        }
    }

    private void NoteUnknownMaterials(CatalogueObject root, IReadOnlyDictionary<string, Material> others)
    {
        foreach (var (key, species) in Species)
            for (var i = 0; i < species.Materials.Count; i++)
                if (!Materials.ContainsKey(species.Materials[i]) && !others.ContainsKey(species.Materials[i]))
                    root.Note(
                        string.Create(CultureInfo.InvariantCulture, $"species/{key}/materials/value/{i}"),
                        $"\"{species.Materials[i]}\"",
                        "one of " + string.Join(", ", Materials.Keys.Union(others.Keys).Order(StringComparer.Ordinal)));
    }

    [GeneratedRegex("^[a-z0-9]+(-[a-z0-9]+)*$", RegexOptions.CultureInvariant)]
    private static partial Regex Key();
}
