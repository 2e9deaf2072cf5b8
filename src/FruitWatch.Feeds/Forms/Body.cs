using System.Text;
using System.Text.Unicode;

namespace FruitWatch.Feeds.Forms;

/// <summary>What every body must pass, whatever its form.</summary>
internal static class Body
{
    private static ReadOnlySpan<byte> Utf8Mark => [0xEF, 0xBB, 0xBF];

    /// <summary>The body without its byte order mark.</summary>
    /// <exception cref="FeedException">It is empty or a web page.</exception>
    public static ReadOnlyMemory<byte> Checked(ReadOnlyMemory<byte> body)
    {
        if (body.Span.StartsWith(Utf8Mark))
            body = body[Utf8Mark.Length..];
        var first = body.Span.IndexOfAnyExcept(" \t\r\n"u8);
        if (first < 0)
            throw new FeedException(
                FeedCodes.EmptyBody,
                "The answer is empty.",
                "the whole answer",
                "It will be asked for again; if it stays empty, try the address in a browser.");
        if (body.Span[first] == (byte)'<')
            throw new FeedException(
                FeedCodes.NotExpectedType,
                "The answer is a web page, not data.",
                PlaceOf(body.Span, first),
                "Try the address in a browser: a sign-in page or an error page may stand in between.");
        return body;
    }

    /// <exception cref="FeedException">The bytes are not UTF-8.</exception>
    public static void CheckUtf8(ReadOnlySpan<byte> body)
    {
        if (Utf8.IsValid(body))
            return;
        var at = 0;
        while (Rune.DecodeFromUtf8(body[at..], out _, out var length) == System.Buffers.OperationStatus.Done)
            at += length;
        throw NotEncoded("UTF-8", body, at);
    }

    public static FeedException NotEncoded(string encoding, ReadOnlySpan<byte> body, int at) =>
        new(FeedCodes.Encoding, $"The byte 0x{body[Math.Min(at, body.Length - 1)]:X2} does not belong in {encoding} text.", PlaceOf(body, at),
            "Save the file as UTF-8, or describe its encoding (format.encoding: iso-8859-1 or windows-1252).");

    /// <summary>The line and byte of an offset, both from 1.</summary>
    public static string PlaceOf(ReadOnlySpan<byte> body, int offset)
    {
        var before = body[..Math.Min(offset, body.Length)];
        return $"line {before.Count((byte)'\n') + 1}, byte {before.Length - before.LastIndexOf((byte)'\n')}";
    }
}
