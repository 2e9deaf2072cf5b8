using System.Globalization;
using System.Text.Json;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>
/// One object of a catalogue file. What is wrong is noted and reading goes on, so that a file is mended in one go; after a
/// note the value handed back means nothing and must not be used.
/// </summary>
internal sealed class CatalogueObject
{
    private readonly Dictionary<string, JsonElement> _fields = new(StringComparer.Ordinal);
    private readonly HashSet<string> _known = new(StringComparer.Ordinal);
    private readonly List<CatalogueProblem> _problems;

    private CatalogueObject(string pointer, List<CatalogueProblem> problems) => (Pointer, _problems) = (pointer, problems);

    public string Pointer { get; }

    public IEnumerable<string> Names => _fields.Keys;

    public static CatalogueObject? Open(JsonElement json, string pointer, List<CatalogueProblem> problems, string expected)
    {
        if (json.ValueKind != JsonValueKind.Object)
        {
            problems.Add(new(pointer, Shown(json), expected));
            return null;
        }

        var opened = new CatalogueObject(pointer, problems);
        foreach (var field in json.EnumerateObject())
            if (!opened._fields.TryAdd(field.Name, field.Value))
                problems.Add(new(opened.PointerTo(field.Name), "the same name a second time", "each name once"));
        return opened;
    }

    /// <summary>Notes a problem with a field.</summary>
    public void Note(string name, string read, string expected) => _problems.Add(new(PointerTo(name), read, expected));

    public bool Has(string name) => _fields.ContainsKey(name);

    /// <summary>A field that may be left out: known here, asked for only where it is present.</summary>
    public bool May(string name)
    {
        _known.Add(name);
        return Has(name);
    }

    /// <summary>A field that can only be <c>null</c>.</summary>
    public void Nothing(string name)
    {
        if (Field(name, "null") is { ValueKind: not JsonValueKind.Null } json)
            Note(name, Shown(json), "null");
    }

    /// <summary>A field of any kind; null, and noted, where it is missing.</summary>
    public JsonElement? Field(string name, string expected)
    {
        _known.Add(name);
        if (_fields.TryGetValue(name, out var json))
            return json;
        Note(name, "nothing", expected);
        return null;
    }

    public CatalogueObject? Object(string name, string expected) =>
        Field(name, expected) is { } json ? Open(json, PointerTo(name), _problems, expected) : null;

    /// <summary>The objects of an array of at least so many.</summary>
    public List<CatalogueObject> Objects(string name, int fewest, string expected)
    {
        List<CatalogueObject> objects = [];
        if (Field(name, expected) is not { } json)
            return objects;
        if (json.ValueKind != JsonValueKind.Array || json.GetArrayLength() < fewest)
        {
            Note(name, Shown(json), expected);
            return objects;
        }

        var index = 0;
        foreach (var item in json.EnumerateArray())
            if (Open(item, string.Create(CultureInfo.InvariantCulture, $"{PointerTo(name)}/{index++}"), _problems, expected) is { } opened)
                objects.Add(opened);
        return objects;
    }

    public double Number(string name, Limits allowed) => Number(Field(name, $"a number {allowed}"), name, allowed);

    public int Whole(string name, Limits allowed)
    {
        var expected = $"a whole number {allowed}";
        if (Field(name, expected) is not { } json)
            return 0;
        if (json.ValueKind == JsonValueKind.Number && json.TryGetInt32(out var value) && allowed.Holds(value))
            return value;
        Note(name, Shown(json), expected);
        return 0;
    }

    /// <summary>Numbers of which there must be <paramref name="count"/>.</summary>
    public double[] Numbers(string name, int count, Limits allowed)
    {
        var expected = string.Create(CultureInfo.InvariantCulture, $"{count} numbers {allowed}");
        if (Field(name, expected) is not { } json)
            return Unknown(count);
        if (json.ValueKind == JsonValueKind.Array && json.GetArrayLength() == count)
            return [.. json.EnumerateArray().Select((item, i) => Number(item, string.Create(CultureInfo.InvariantCulture, $"{name}/{i}"), allowed))];
        Note(name, Shown(json), expected);
        return Unknown(count);
    }

    public string Text(string name, string expected)
    {
        if (Field(name, expected) is not { } json)
            return "";
        if (json.ValueKind == JsonValueKind.String && json.GetString() is { } text && !string.IsNullOrWhiteSpace(text))
            return text.Trim();
        Note(name, Shown(json), expected);
        return "";
    }

    public List<string> Texts(string name, string expected)
    {
        if (Field(name, expected) is not { } json)
            return [];
        if (json.ValueKind == JsonValueKind.Array && json.GetArrayLength() > 0
            && json.EnumerateArray().All(item => item.ValueKind == JsonValueKind.String))
            return [.. json.EnumerateArray().Select(item => item.GetString()!)];
        Note(name, Shown(json), expected);
        return [];
    }

    /// <summary>Notes every field that was not asked for: a misspelt name must not pass for one left out.</summary>
    public void Close()
    {
        foreach (var name in _fields.Keys.Where(name => !_known.Contains(name)))
            Note(name, "a name that is not known here", "one of " + string.Join(", ", _known.Order(StringComparer.Ordinal)));
    }

    private double Number(JsonElement? json, string name, Limits allowed)
    {
        if (json is not { } read)
            return double.NaN;
        if (read.ValueKind == JsonValueKind.Number && read.TryGetDouble(out var value) && allowed.Holds(value))
            return value;
        Note(name, Shown(read), $"a number {allowed}");
        return double.NaN;
    }

    private static double[] Unknown(int count) => [.. Enumerable.Repeat(double.NaN, count)];

    // RFC 6901 section 3. Array places are already joined by a slash and hold digits only.
    private string PointerTo(string name) =>
        $"{Pointer}/{(_fields.ContainsKey(name) ? name.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal) : name)}";

    private static string Shown(JsonElement json)
    {
        const int longest = 60;
        var raw = json.GetRawText();
        return raw.Length <= longest ? raw : raw[..longest] + "…";
    }
}
