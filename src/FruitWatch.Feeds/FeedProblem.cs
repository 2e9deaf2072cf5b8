namespace FruitWatch.Feeds;

/// <summary>A note about an answer that was accepted: what was odd, where first, and what was done with it.</summary>
/// <param name="Code">One of <see cref="FeedCodes"/>.</param>
/// <param name="Sentence">What was read and what became of it, for the person who set the feed up.</param>
/// <param name="Place">Where it was met first: a line and column, or a JSON pointer into the answer.</param>
/// <param name="Count">How many times the same was met for the same series.</param>
public sealed record FeedProblem(string Code, string Sentence, string Place, int Count);
