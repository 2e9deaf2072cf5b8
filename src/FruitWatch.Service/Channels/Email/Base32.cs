using System.Text;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Bytes in letters and digits that survive a change of case (RFC 4648 section 6), written in lower case and without padding.</summary>
internal static class Base32
{
    private const string Letters = "abcdefghijklmnopqrstuvwxyz234567";

    public static string Write(ReadOnlySpan<byte> bytes)
    {
        var text = new StringBuilder(((bytes.Length * 8) + 4) / 5);
        var (held, bits) = (0, 0);
        foreach (var one in bytes)
        {
            (held, bits) = ((held << 8) | one, bits + 8);
            while (bits >= 5)
            {
                bits -= 5;
                text.Append(Letters[(held >> bits) & 31]);
            }

            held &= (1 << bits) - 1;
        }

        if (bits > 0)
            text.Append(Letters[(held << (5 - bits)) & 31]);
        return text.ToString();
    }

    /// <summary>The bytes, in whatever case they are written; null for a text that no bytes are written as.</summary>
    public static byte[]? Read(string text)
    {
        var bytes = new List<byte>(text.Length * 5 / 8);
        var (held, bits) = (0, 0);
        foreach (var letter in text)
        {
            var value = Letters.IndexOf(char.ToLowerInvariant(letter), StringComparison.Ordinal);
            if (value < 0)
                return null;
            (held, bits) = ((held << 5) | value, bits + 5);
            if (bits >= 8)
            {
                bits -= 8;
                bytes.Add((byte)(held >> bits));
                held &= (1 << bits) - 1;
            }
        }

        // What is left over has to be nothing, so that there is one spelling only.
        return bits < 5 && held == 0 ? [.. bytes] : null;
    }
}
