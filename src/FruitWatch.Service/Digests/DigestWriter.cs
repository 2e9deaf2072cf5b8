using System.Text;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Digests;

/// <summary>Writes digests.</summary>
internal static class DigestWriter
{
    /// <summary>Mail readers cut off what is longer; Gmail does at about 102 KB. [bytes]</summary>
    public const int LongestHtml = 100_000;

    public static DigestMail Write(Digest digest, Words words)
    {
        var mail = Write(new LetterWriter(digest, words, withBeds: true).Write());
        return Encoding.UTF8.GetByteCount(mail.Html) <= LongestHtml
            ? mail
            : Write(new LetterWriter(digest, words, withBeds: false).Write());
    }

    private static DigestMail Write(Letter letter) => new(letter.Subject, TextLetter.Of(letter), HtmlLetter.Of(letter));
}
