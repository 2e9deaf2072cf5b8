namespace FruitWatch.Feeds;

/// <summary>One thing wrong with a feed's description.</summary>
/// <param name="Place">The JSON pointer to its place in the description.</param>
/// <param name="What">What is wrong.</param>
/// <param name="Mend">What to write instead.</param>
public sealed record FeedDescriptionProblem(string Place, string What, string Mend)
{
    /// <inheritdoc/>
    public override string ToString() => $"{(Place.Length == 0 ? "the description" : Place)}: {What} {Mend}";
}

/// <summary>A feed's description was refused; <see cref="Problems"/> lists everything that is wrong with it.</summary>
public sealed class FeedDescriptionException : Exception
{
    internal FeedDescriptionException(IReadOnlyList<FeedDescriptionProblem> problems)
        : base(string.Join(Environment.NewLine, problems)) => Problems = problems;

    /// <summary>At least one.</summary>
    public IReadOnlyList<FeedDescriptionProblem> Problems { get; }
}
