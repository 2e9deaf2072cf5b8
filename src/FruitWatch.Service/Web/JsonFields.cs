using System.Globalization;
using System.Text.Json;
using FruitWatch.Service.Text;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Web;

/// <summary>
/// Reads the fields of a JSON object and notes all that is wrong with them, each under the field's path, such as
/// <c>layers[1].depthM</c>. A field that is not read is not known, and is refused by <see cref="Close"/>.
/// </summary>
internal sealed class JsonFields : IFields
{
    private readonly JsonElement json;
    private readonly string path;
    private readonly SortedDictionary<string, List<string>> errors;
    private readonly HashSet<string> read = [];

    public JsonFields(JsonElement json)
        : this(json, "", new SortedDictionary<string, List<string>>(StringComparer.Ordinal))
    {
        if (json.ValueKind != JsonValueKind.Object)
            errors["body"] = [$"Expected a JSON object, got {Shown(json)}."];
    }

    private JsonFields(JsonElement json, string path, SortedDictionary<string, List<string>> errors)
    {
        this.json = json;
        this.path = path;
        this.errors = errors;
    }

    /// <summary>What was wrong, by field.</summary>
    public IReadOnlyDictionary<string, string[]> Errors => errors.ToDictionary(e => e.Key, e => e.Value.ToArray());

    public bool Good => errors.Count == 0;

    /// <summary>Text without the spaces around it; null where it is left out.</summary>
    public string? Text(string name, int most, bool required = false)
    {
        if (Find(name, required) is not { } value)
            return null;
        if (value.ValueKind != JsonValueKind.String)
            return Wrong<string>(name, value, $"text of up to {most} characters");
        var text = value.GetString()!.Trim();
        if (required && text.Length == 0)
            return Refuse<string>(name, "Must not be empty.");
        if (text.Length > most)
            return Refuse<string>(name, string.Create(CultureInfo.InvariantCulture, $"May have {most} characters at most; it has {text.Length}."));
        return text.Any(c => char.IsControl(c) && c is not ('\n' or '\r' or '\t'))
            ? Refuse<string>(name, "Must not hold control characters.")
            : text;
    }

    /// <summary>Text of one line: a name, an address.</summary>
    public string? Line(string name, int most, bool required = false) =>
        Text(name, most, required) is { } text ? !FormText.IsLine(text) ? Refuse<string>(name, "Must stand on one line.") : text : null;

    /// <summary>A list of names, each once, of those that are known.</summary>
    public IReadOnlyList<string>? Names(string name, IReadOnlyList<string> known)
    {
        if (Find(name, required: true) is not { } value)
            return null;
        var given = value.ValueKind == JsonValueKind.Array && value.GetArrayLength() <= known.Count
            ? value.EnumerateArray().Select(one => known.FirstOrDefault(word => one.ValueKind == JsonValueKind.String && one.ValueEquals(word))).ToList()
            : [];
        return given.Count == 0 || given.Contains(null) || given.Distinct().Count() < given.Count
            ? Wrong<IReadOnlyList<string>>(name, value, $"a list of names, each once, of {string.Join(", ", known)}")
            : [.. given.OfType<string>()];
    }

    /// <summary>JSON as text: an object as it stands, or a text that holds it. Whether it is JSON that makes sense is for its reader to say.</summary>
    public string? JsonText(string name)
    {
        if (Find(name, required: false) is not { } value)
            return null;
        return value.ValueKind switch
        {
            JsonValueKind.Object => value.GetRawText(),
            JsonValueKind.String => value.GetString(),
            _ => Wrong<string>(name, value, "an object, or its text"),
        };
    }

    public double? Number(string name, double low, double high, bool required = false)
    {
        if (Find(name, required) is not { } value)
            return null;
        var expected = string.Create(CultureInfo.InvariantCulture, $"a number from {low} to {high}");
        return value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out var number) && number >= low && number <= high
            ? number
            : Wrong<double?>(name, value, expected);
    }

    /// <summary>Key of a row.</summary>
    public long? Id(string name, bool required = false)
    {
        if (Find(name, required) is not { } value)
            return null;
        return value.ValueKind == JsonValueKind.Number && value.TryGetInt64(out var id) ? id : Wrong<long?>(name, value, "a whole number");
    }

    /// <summary>Keys of rows, none of them twice.</summary>
    public IReadOnlyList<long>? Ids(string name, int most)
    {
        if (Find(name, required: false) is not { } value)
            return null;
        var expected = string.Create(CultureInfo.InvariantCulture, $"a list of at most {most} whole numbers, each once");
        if (value.ValueKind != JsonValueKind.Array || value.GetArrayLength() > most)
            return Wrong<IReadOnlyList<long>>(name, value, expected);
        var ids = new List<long>();
        foreach (var one in value.EnumerateArray())
        {
            if (one.ValueKind != JsonValueKind.Number || !one.TryGetInt64(out var id) || ids.Contains(id))
                return Wrong<IReadOnlyList<long>>(name, value, expected);
            ids.Add(id);
        }

        return ids;
    }

    IReadOnlyList<T>? IFields.List<T>(string name, int most, Func<IFields, T> item, bool required) =>
        List(name, most, fields => item(fields), required);

    public bool? YesNo(string name)
    {
        if (Find(name, required: false) is not { } value)
            return null;
        return value.ValueKind is JsonValueKind.True or JsonValueKind.False ? value.GetBoolean() : Wrong<bool?>(name, value, "true or false");
    }

    public LocalDate? Date(string name, bool required = false) =>
        Find(name, required) is not { } value ? null
        : value.ValueKind == JsonValueKind.String && LocalDatePattern.Iso.Parse(value.GetString()!).TryGetValue(default, out var date)
            ? date
            : Wrong<LocalDate?>(name, value, "a day such as 2026-05-31");

    public LocalTime? Time(string name)
    {
        if (Find(name, required: false) is not { } value)
            return null;
        var text = value.ValueKind == JsonValueKind.String ? value.GetString()! : "";
        return LocalTimePattern.GeneralIso.Parse(text).TryGetValue(default, out var time) || s_hourAndMinute.Parse(text).TryGetValue(default, out time)
            ? time
            : Wrong<LocalTime?>(name, value, "a time of day such as 06:30");
    }

    /// <summary>One of a set of words.</summary>
    public T? Word<T>(string name)
        where T : struct, Enum
    {
        if (Find(name, required: false) is not { } value)
            return null;
        foreach (var word in Enum.GetValues<T>())
        {
            if (value.ValueKind == JsonValueKind.String && value.ValueEquals(ApiJson.WordOf(word)))
                return word;
        }

        return Wrong<T?>(name, value, string.Join(", ", ApiJson.WordsOf<T>()));
    }

    /// <summary>A list of words of a set, none of them twice.</summary>
    public IReadOnlyList<T>? Words<T>(string name)
        where T : struct, Enum
    {
        if (Find(name, required: false) is not { } value)
            return null;
        var words = Enum.GetValues<T>();
        var expected = $"a list of words, each once, of {string.Join(", ", ApiJson.WordsOf<T>())}";
        if (value.ValueKind != JsonValueKind.Array || value.GetArrayLength() > words.Length)
            return Wrong<IReadOnlyList<T>>(name, value, expected);
        var given = value.EnumerateArray()
            .Select(one => words.Cast<T?>().FirstOrDefault(word => one.ValueKind == JsonValueKind.String && one.ValueEquals(ApiJson.WordOf(word!.Value))))
            .ToList();
        return given.Contains(null) || given.Distinct().Count() < given.Count
            ? Wrong<IReadOnlyList<T>>(name, value, expected)
            : [.. given.OfType<T>()];
    }

    /// <summary>A list of words of a set that is no enumeration, none of them twice.</summary>
    public IReadOnlyList<string>? TextWords(string name, IEnumerable<string> known, bool required = false)
    {
        if (Find(name, required) is not { } value)
            return null;
        var words = known.ToList();
        var given = value.ValueKind == JsonValueKind.Array && value.GetArrayLength() is > 0 and var count && count <= words.Count
            ? value.EnumerateArray().Select(one => words.FirstOrDefault(word => one.ValueKind == JsonValueKind.String && one.ValueEquals(word))).ToList()
            : [];
        return given.Count == 0 || given.Contains(null) || given.Distinct().Count() < given.Count
            ? Wrong<IReadOnlyList<string>>(name, value, $"a list of words, each once, of {string.Join(", ", words)}")
            : [.. given.OfType<string>()];
    }

    /// <summary>A list of objects; each is closed after it was read.</summary>
    public IReadOnlyList<T>? List<T>(string name, int most, Func<JsonFields, T> item, bool required = false)
    {
        if (Find(name, required) is not { } value)
            return null;
        if (value.ValueKind != JsonValueKind.Array || value.GetArrayLength() == 0 || value.GetArrayLength() > most)
            return Wrong<IReadOnlyList<T>>(name, value, $"a list of 1 to {most} objects");
        var items = new List<T>();
        foreach (var element in value.EnumerateArray())
        {
            var at = string.Create(CultureInfo.InvariantCulture, $"{path}{name}[{items.Count}]");
            var fields = new JsonFields(element, at + ".", errors);
            if (element.ValueKind != JsonValueKind.Object)
                Note(at, $"Expected an object, got {Shown(element)}.");
            items.Add(item(fields));
            fields.Close();
        }

        return items;
    }

    /// <summary>Notes that a field cannot be as it is.</summary>
    public T? Refuse<T>(string name, string error)
    {
        Note(path + name, error);
        return default;
    }

    /// <inheritdoc cref="Refuse{T}"/>
    public void Refuse(string name, string error) => Note(path + name, error);

    /// <summary>The same, in the words of the API, which are English.</summary>
    public void Refuse(string name, Func<Words, string> error) => Note(path + name, error(s_words));

    /// <summary>Refuses the fields that nobody asked for.</summary>
    public void Close()
    {
        if (json.ValueKind != JsonValueKind.Object)
            return;
        foreach (var field in json.EnumerateObject().Where(field => !read.Contains(field.Name)))
            Note(path + Short(field.Name), $"Is not known here. Known: {string.Join(", ", read)}.");
    }

    private static readonly Words s_words = Service.Text.Words.For("en");

    private static readonly LocalTimePattern s_hourAndMinute = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    private JsonElement? Find(string name, bool required)
    {
        read.Add(name);
        if (json.ValueKind == JsonValueKind.Object && json.TryGetProperty(name, out var value) && value.ValueKind != JsonValueKind.Null)
            return value;
        if (required && json.ValueKind == JsonValueKind.Object)
            Note(path + name, "Is required.");
        return null;
    }

    private T? Wrong<T>(string name, JsonElement value, string expected) => Refuse<T>(name, $"Expected {expected}, got {Shown(value)}.");

    private void Note(string field, string error)
    {
        if (!errors.TryGetValue(field, out var known))
            errors[field] = known = [];
        known.Add(error);
    }

    private static string Shown(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Object => "an object",
        JsonValueKind.Array => $"a list of {value.GetArrayLength().ToString(CultureInfo.InvariantCulture)}",
        JsonValueKind.String => $"'{Short(value.GetString()!)}'",
        _ => Short(value.GetRawText()),
    };

    // An answer must not grow with what was sent.
    private static string Short(string text) => text.Length <= 60 ? text : text[..60] + "…";
}
