namespace FruitWatch.Feeds.Fetching;

/// <summary>What an answer may be like.</summary>
/// <param name="MediaTypes">Content types taken.</param>
/// <param name="AnyJson">Any other kind of JSON is taken as well.</param>
/// <param name="MaxBytes">Longest body, unpacked. [bytes]</param>
/// <param name="Gzip">The body is a packed file.</param>
internal sealed record AnswerLimits(IReadOnlyList<string> MediaTypes, bool AnyJson, int MaxBytes, bool Gzip)
{
    public bool Takes(string type) =>
        MediaTypes.Contains(type, StringComparer.OrdinalIgnoreCase)
        || (AnyJson && (type == "application/json" || type.EndsWith("+json", StringComparison.Ordinal)));
}
