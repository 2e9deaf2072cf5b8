using System.Security.Cryptography;
using FruitWatch.Feeds.Fetching;

namespace FruitWatch.Feeds;

/// <summary>What a refused answer looked like, kept for the person who mends the feed. Secrets are taken out.</summary>
/// <param name="Status">The HTTP status.</param>
/// <param name="MediaType">Type and subtype as the server named them.</param>
/// <param name="Bytes">Length of the body, unpacked; where it was not read to its end, the length the server gave, if any.</param>
/// <param name="Head">The beginning of the body as text, at most 2048 characters. Foreign text: escape it wherever it is shown.</param>
/// <param name="Sha256">Of the whole body, in hexadecimal; null where it was not read to its end.</param>
public sealed record FeedEvidence(int? Status, string? MediaType, long? Bytes, string? Head, string? Sha256)
{
    internal const int LongestHead = 2048;

    /// <summary>Evidence about an answer that came whole and was refused when it was read.</summary>
    /// <param name="fetched">The answer.</param>
    /// <param name="key">The feed's key, which is taken out of the text.</param>
    public static FeedEvidence Of(FetchedFeed fetched, string? key = null)
    {
        ArgumentNullException.ThrowIfNull(fetched);
        return Of(200, fetched.MediaType, fetched.Body, whole: true, null, key);
    }

    internal static FeedEvidence Of(int? status, string? mediaType, ReadOnlyMemory<byte> body, bool whole, long? declared, string? key) => new(
        status,
        mediaType,
        whole ? body.Length : declared,
        Secrets.HeadOf(body.Span, LongestHead, key),
        whole ? Convert.ToHexStringLower(SHA256.HashData(body.Span)) : null);
}
