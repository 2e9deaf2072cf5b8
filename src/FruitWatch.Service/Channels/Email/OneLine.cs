using System.Globalization;
using System.Text;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Text of people and of other servers, made fit for a header field or a line of the log.</summary>
internal static class OneLine
{
    /// <summary>
    /// The text without control characters, line breaks of any kind, and marks that turn the direction of writing; each run of these
    /// and of spaces becomes one space. Emoji and accents stay.
    /// </summary>
    public static string Of(string text)
    {
        var line = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes()) // a lone surrogate comes out as U+FFFD
        {
            if (IsInert(rune))
                line.Append(rune);
            else if (line.Length > 0 && line[^1] != ' ')
                line.Append(' ');
        }

        return line.ToString().Trim();
    }

    /// <summary>The same, cut to a length at a whole character.</summary>
    public static string Of(string text, int longest)
    {
        var line = Of(text);
        if (line.Length <= longest)
            return line;
        var elements = StringInfo.GetTextElementEnumerator(line);
        var end = 0;
        while (elements.MoveNext() && elements.ElementIndex + elements.GetTextElement().Length < longest)
            end = elements.ElementIndex + elements.GetTextElement().Length;
        return line[..end].TrimEnd() + "…";
    }

    private static bool IsInert(Rune rune) => Rune.GetUnicodeCategory(rune) switch
    {
        UnicodeCategory.Control or UnicodeCategory.SpaceSeparator or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator => false,
        // Joiners hold emoji together; the marks of direction could make one address read like another.
        UnicodeCategory.Format => rune.Value is 0x200C or 0x200D or (>= 0xE0020 and <= 0xE007F),
        _ => true,
    };
}
