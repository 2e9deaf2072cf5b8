namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>Fields of the form <c>{ "value": …, "source": "…" }</c>: no value of the catalogue goes without its source.</summary>
/// <param name="owner">The object that has the fields.</param>
/// <param name="path">Path of <paramref name="owner"/> inside its species or material, ending in a slash unless empty.</param>
/// <param name="sources">Where the sources are gathered.</param>
internal sealed class SourcedFields(CatalogueObject? owner, string path, IDictionary<string, string> sources)
{
    private const string Form = """an object { "value": …, "source": "…" }""";

    public SourcedFields In(string name, string expected) => new(owner?.Object(name, expected), $"{path}{name}/", sources);

    public double Number(string name, Limits allowed) => Read(name, field => field.Number("value", allowed), double.NaN);

    public int Whole(string name, Limits allowed) => Read(name, field => field.Whole("value", allowed), 0);

    public List<string> Texts(string name, string expected) => Read(name, field => field.Texts("value", expected), []);

    public Band Band(string name, Limits allowed) => Read(
        name,
        field =>
        {
            var corners = field.Numbers("value", 4, allowed);
            // Comparisons with NaN, a corner already noted, are false: nothing is noted twice.
            if (corners[1] < corners[0] || corners[2] < corners[1] || corners[3] < corners[2] || corners[3] <= corners[0])
                field.Note("value", $"[{string.Join(", ", corners.Select(Shown))}]", "four temperatures that do not fall, the last above the first");
            return new Band(corners[0], corners[1], corners[2], corners[3]);
        },
        new Band(double.NaN, double.NaN, double.NaN, double.NaN));

    /// <summary>A part that may be absent: left out, or <c>null</c> as its value with the source for there being none.</summary>
    public T? Optional<T>(string name, Func<SourcedFields, T> read)
        where T : class
    {
        if (owner is null || !owner.May(name) || owner.Object(name, "an object") is not { } part)
            return null;
        if (part.Has("value"))
        {
            part.Nothing("value");
            sources[path + name] = part.Text("source", "where this comes from");
            part.Close();
            return null;
        }

        var fields = new SourcedFields(part, $"{path}{name}/", sources);
        var made = read(fields);
        fields.Close();
        return made;
    }

    public void Close() => owner?.Close();

    private T Read<T>(string name, Func<CatalogueObject, T> read, T missing)
    {
        if (owner?.Object(name, Form) is not { } field)
            return missing;
        var value = read(field);
        sources[path + name] = field.Text("source", "where the value comes from");
        field.Close();
        return value;
    }

    private static string Shown(double value) => value.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
