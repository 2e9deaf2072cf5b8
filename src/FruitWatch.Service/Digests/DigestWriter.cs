using System.Text;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Digests;

/// <summary>Writes digests.</summary>
internal static class DigestWriter
{
    /// <summary>Mail readers cut off what is longer; Gmail does at about 102 KB. [bytes]</summary>
    public const int LongestHtml = 100_000;

    /// <summary>A letter of a form.</summary>
    public static DigestMail Write(Digest digest, Words words, LetterForm form = LetterForm.Morning)
    {
        var mail = Write(new LetterWriter(digest, words, withBeds: true, form).Write());
        return Encoding.UTF8.GetByteCount(mail.Html) <= LongestHtml
            ? mail
            : Write(new LetterWriter(digest, words, withBeds: false, form).Write());
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
