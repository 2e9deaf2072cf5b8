using System.Text;

namespace FruitWatch.Service.Calendars;

/// <summary>
/// Lines of at most 75 octets, cut between characters (RFC 5545 §3.1). Ical.Net counts octets too, but cuts what UTF-16 writes as two,
/// such as an emoji, in the middle, and leaves neither half.
/// </summary>
internal static class Folding
{
    /// <summary>Longest line without its end. [octets]</summary>
    private const int Longest = 75;

    private const string Break = "\r\n ";

    /// <summary>The text with its lines folded anew.</summary>
    /// <param name="text">iCalendar, however it is folded, each line ended by CRLF.</param>
    public static string Again(string text)
    {
        var folded = new StringBuilder(text.Length + text.Length / 32);
        var used = 0;
        foreach (var rune in text.Replace(Break, "", StringComparison.Ordinal).EnumerateRunes())
        {
            if (rune.Value is '\r' or '\n')
            {
                used = 0;
            }
            else
            {
                if (used + rune.Utf8SequenceLength > Longest)
                {
                    folded.Append(Break);
                    used = 1; // the space belongs to the line
                }

                used += rune.Utf8SequenceLength;
            }

            folded.Append(rune);
        }

        return folded.ToString();
    }
}
