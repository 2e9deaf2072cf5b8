namespace FruitWatch.Service.Web;

/// <summary>What may stand in a field of one line.</summary>
internal static class FormText
{
    /// <summary>No control characters, and no half of a character.</summary>
    public static bool IsLine(string text)
    {
        for (var i = 0; i < text.Length; i++)
        {
            if (char.IsControl(text[i]) || text[i] is '\u2028' or '\u2029')
                return false;
            if (!char.IsSurrogate(text[i]))
                continue;
            if (i + 1 == text.Length || !char.IsSurrogatePair(text[i], text[i + 1]))
                return false;
            i++;
        }

        return true;
    }
}
