using System.Text;
using System.Text.Encodings.Web;
using System.Text.RegularExpressions;

namespace FruitWatch.Feeds.Fetching;

/// <summary>Takes a feed's key out of whatever a server says: some quote the request in their errors.</summary>
internal static partial class Secrets
{
    // A key that straddles the end of the text kept would be cut and not found.
    private const int Overlap = 4096;

    private const int ShortestInBodies = 8;

    /// <summary>The text without the key, in the spellings it may have on its way.</summary>
    public static string Without(string text, string? key)
    {
        if (string.IsNullOrEmpty(key))
            return text;
        return Spellings(key).Aggregate(text, (clean, one) => clean.Replace(one, "{key}", StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>
    /// An answer without the key. Whatever is read, quoted or kept of it later has none. A key so short that it may be a number of
    /// the weather stays where it is.
    /// </summary>
    public static ReadOnlyMemory<byte> Without(ReadOnlyMemory<byte> body, string? key)
    {
        if (key is not { Length: >= ShortestInBodies })
            return body;
        foreach (var spelling in Spellings(key))
        {
            var sought = Encoding.UTF8.GetBytes(spelling);
            if (body.Span.IndexOf(sought) >= 0)
                body = Replaced(body.Span, sought);
        }
        return body;
    }

    private static byte[] Replaced(ReadOnlySpan<byte> body, byte[] sought)
    {
        using var clean = new MemoryStream(body.Length);
        for (int at; (at = body.IndexOf(sought)) >= 0; body = body[(at + sought.Length)..])
        {
            clean.Write(body[..at]);
            clean.Write("{key}"u8);
        }
        clean.Write(body);
        return clean.ToArray();
    }

    private static IEnumerable<string> Spellings(string key) => new[]
    {
        Convert.ToBase64String(Encoding.UTF8.GetBytes(key + ":")),
        Uri.EscapeDataString(key),
        Escape().Replace(Uri.EscapeDataString(key), match => match.Value.ToLowerInvariant()),
        JavaScriptEncoder.Default.Encode(key),
        JavaScriptEncoder.UnsafeRelaxedJsonEscaping.Encode(key),
        key,
    }.Distinct();

    [GeneratedRegex("%[0-9A-F]{2}")]
    private static partial Regex Escape();

    /// <summary>The beginning of a body as text without control characters, or null where there is none.</summary>
    public static string? HeadOf(ReadOnlySpan<byte> body, int longest, string? key)
    {
        if (body.IsEmpty)
            return null;
        var text = Encoding.UTF8.GetString(body[..Math.Min(body.Length, longest + Overlap)]);
        var clean = new string([.. Without(text, key).Select(letter => char.IsControl(letter) && letter is not ('\n' or '\t') ? ' ' : letter)]);
        return clean.Length <= longest ? clean : clean[..longest];
    }
}
