namespace FruitWatch.Feeds.Mapping;

/// <summary>
/// Gathers the notes of one answer. The same finding in the same series is one note with a count, so that a bad file of a
/// hundred thousand rows does not give a hundred thousand notes.
/// </summary>
internal sealed class NoteBook
{
    private readonly Dictionary<(string Code, string About), FeedProblem> notes = [];

    public IReadOnlyList<FeedProblem> Notes => [.. notes.Values];

    /// <param name="code">One of <see cref="FeedCodes"/>.</param>
    /// <param name="about">What the finding is about: a series or a quantity.</param>
    /// <param name="sentence">For the first of its kind.</param>
    /// <param name="place">Where.</param>
    public void Add(string code, string about, string sentence, string place) =>
        notes[(code, about)] = notes.TryGetValue((code, about), out var first)
            ? first with { Count = first.Count + 1 }
            : new FeedProblem(code, FeedException.OneLine(sentence), FeedException.Somewhere(place), 1);
}
