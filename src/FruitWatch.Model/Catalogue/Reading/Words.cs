namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>Words in several languages: <c>{ "en": "…", "es": "…" }</c>. English must be there.</summary>
/// <param name="English">In English.</param>
/// <param name="Others">In other languages, by two-letter code.</param>
internal sealed record Words(string English, IReadOnlyDictionary<string, string> Others)
{
    private const string Form = """words by language, such as { "en": "…", "es": "…" }""";

    public static Words Read(CatalogueObject owner, string name) =>
        owner.Object(name, Form) is { } words ? ReadAll(words) : new Words("", new Dictionary<string, string>());

    /// <summary>Reads the languages of an object that may have other fields too, which the caller asked for before.</summary>
    public static Words ReadAll(CatalogueObject words)
    {
        var english = words.Text("en", "English words");
        var others = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (var language in words.Names.Where(IsOtherLanguage))
            others[language] = words.Text(language, "words in this language");
        words.Close();
        return new Words(english, others.AsReadOnly());
    }

    private static bool IsOtherLanguage(string name) =>
        name is [>= 'a' and <= 'z', >= 'a' and <= 'z'] and not "en";
}
