using System.Text;
using System.Text.Encodings.Web;

namespace FruitWatch.Feeds.Fetching;

/// <summary>Takes a feed's key out of whatever a server says: some quote the request in their errors.</summary>
internal static class Secrets
{
    // A key that straddles the end of the text kept would be cut and not found.
    private const int Overlap = 4096;

    /// <summary>The text without the key, in the spellings it may have on its way.</summary>
    public static string Without(string text, string? key)
    {
        if (string.IsNullOrEmpty(key))
            return text;
        string[] spellings =
        [
            Convert.ToBase64String(Encoding.UTF8.GetBytes(key + ":")),
            Uri.EscapeDataString(key),
            JavaScriptEncoder.Default.Encode(key),
            JavaScriptEncoder.UnsafeRelaxedJsonEscaping.Encode(key),
            key,
        ];
        return spellings.Distinct().Aggregate(text, (clean, one) => clean.Replace(one, "{key}", StringComparison.OrdinalIgnoreCase));
    }

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
