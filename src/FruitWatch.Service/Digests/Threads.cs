using FruitWatch.Service.Operating;

namespace FruitWatch.Service.Digests;

/// <summary>
/// Header fields by which mail readers put letters together (RFC 5322 section 3.6.4): the digests of a year are one conversation, and so
/// is what is urgent about a bed in a season. Their first letters are names only, which nobody ever gets.
/// </summary>
internal static class Threads
{
    public static IEnumerable<KeyValuePair<string, string>> OfDigests(long personId, int year, ServiceOptions options) =>
        Under(FormattableString.Invariant($"<digests.{personId}.{year}@{options.MessageDomain}>"));

    public static IEnumerable<KeyValuePair<string, string>> OfBed(long bedId, int year, ServiceOptions options) =>
        Under(FormattableString.Invariant($"<bed.{bedId}.{year}@{options.MessageDomain}>"));

    /// <summary>An answer to an earlier letter about a bed.</summary>
    /// <param name="bedId">The bed.</param>
    /// <param name="year">The season.</param>
    /// <param name="messageId">The earlier letter's Message-ID.</param>
    /// <param name="options">For the domain.</param>
    public static IEnumerable<KeyValuePair<string, string>> AnswerTo(long bedId, int year, string messageId, ServiceOptions options) =>
    [
        new("In-Reply-To", $"<{messageId}>"),
        new("References", FormattableString.Invariant($"<bed.{bedId}.{year}@{options.MessageDomain}> <{messageId}>")),
    ];

    private static KeyValuePair<string, string>[] Under(string root) => [new("In-Reply-To", root), new("References", root)];
}
