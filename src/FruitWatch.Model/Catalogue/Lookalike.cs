namespace FruitWatch.Model.Catalogue;

/// <summary>A fungus that can be mistaken for the species.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Danger">What it does.</param>
/// <param name="Tell">How it differs.</param>
public sealed record Lookalike(string Name, string Danger, string Tell)
{
    /// <summary>Who says so.</summary>
    public string Source { get; init; } = "";

    /// <summary>The same in other languages, by two-letter code.</summary>
    public IReadOnlyDictionary<string, Lookalike> In { get; init; } = new Dictionary<string, Lookalike>();

    /// <summary>The same in a language; in English where there are no such words.</summary>
    public Lookalike InLanguage(string language) => In.GetValueOrDefault(language, this);
}

/// <summary>Safety advice for one species.</summary>
/// <param name="Text">The advice, in English.</param>
/// <param name="Source">Who says so.</param>
public sealed record Caution(string Text, string Source)
{
    /// <summary>The advice in other languages, by two-letter code.</summary>
    public IReadOnlyDictionary<string, string> Texts { get; init; } = new Dictionary<string, string>();

    /// <summary>The advice in a language; in English where there are no such words.</summary>
    public string TextIn(string language) => Texts.GetValueOrDefault(language, Text);
}
