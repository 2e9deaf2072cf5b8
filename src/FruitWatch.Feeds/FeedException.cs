using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>
/// A feed's answer was refused, or could not be had. Its message is one or two sentences for the person who set the feed
/// up: what was wrong, where, and what to do. A refused answer never replaces the last good one.
/// </summary>
public sealed class FeedException : Exception
{
    internal FeedException(string code, string sentence, string place, string mend, Exception? inner = null)
        : base($"{OneLine(sentence)} ({Somewhere(place)}) {mend}", inner)
    {
        Code = code;
        Sentence = OneLine(sentence);
        Place = Somewhere(place);
        Mend = mend;
        Permanent = FeedCodes.IsPermanent(code);
    }

    /// <summary>One of <see cref="FeedCodes"/>.</summary>
    public string Code { get; }

    /// <summary>What was wrong.</summary>
    public string Sentence { get; }

    /// <summary>Where: a line and column, a JSON pointer into the answer, or the address asked.</summary>
    public string Place { get; }

    /// <summary>What to do.</summary>
    public string Mend { get; }

    /// <summary>Whether asking again is of no use until somebody changes something.</summary>
    public bool Permanent { get; internal init; }

    // The pointer to the whole answer is an empty text.
    internal static string Somewhere(string place) => place.Length == 0 ? "the whole answer" : OneLine(place);

    // A pointer or a name of the description may hold anything that JSON can write.
    internal static string OneLine(string text) =>
        text.Any(char.IsControl) ? string.Concat(text.Select(letter => char.IsControl(letter) ? ' ' : letter)) : text;

    /// <summary>How long the server, or our own caution, wants us to wait before asking this host again.</summary>
    public Duration? RetryAfter { get; internal init; }

    /// <summary>The HTTP status, where the server gave one.</summary>
    public int? Status { get; internal init; }

    /// <summary>What the refused answer looked like, where there was one.</summary>
    public FeedEvidence? Evidence { get; internal set; }
}
