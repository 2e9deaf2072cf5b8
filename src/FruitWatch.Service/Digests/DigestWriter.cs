using System.Text;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Digests;

/// <summary>Writes digests.</summary>
internal static class DigestWriter
{
    /// <summary>Mail readers cut off what is longer; Gmail does at about 102 KB. [bytes]</summary>
    public const int LongestHtml = 100_000;

    /// <summary>Notices told in full, the most urgent first; nobody reads more. Fewer where the mail would be cut off.</summary>
    private static readonly int[] s_inFull = [40, 30, 20, 10];

    /// <summary>A letter of a form.</summary>
    public static DigestMail Write(Digest digest, Words words, LetterForm form = LetterForm.Morning)
    {
        var mail = Write(new LetterWriter(digest, words, withBeds: true, s_inFull[0], form).Write());
        foreach (var inFull in s_inFull)
        {
            if (Encoding.UTF8.GetByteCount(mail.Html) <= LongestHtml)
                return mail;
            mail = Write(new LetterWriter(digest, words, withBeds: false, inFull, form).Write());
        }

        return mail;
    }

    private static DigestMail Write(Letter letter) => new(letter.Subject, TextLetter.Of(letter), HtmlLetter.Of(letter));
}

/// <summary>What a letter about beds is.</summary>
internal enum LetterForm
{
    /// <summary>The morning mail.</summary>
    Morning,

    /// <summary>What cannot wait for the next one.</summary>
    Urgent,

    /// <summary>It need not be done after all.</summary>
    TakenBack,
}
