using System.Text.RegularExpressions;
using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>A mail as a reader sees it: words in one line of single spaces, whether they came as text or as HTML.</summary>
internal sealed partial class Shown
{
    public Shown(Digest digest)
    {
        Words = Words.For(digest.Person.Language);
        Mail = DigestWriter.Write(digest, Words);
        Page = new HtmlParser().ParseDocument(Mail.Html);
        Text = Flat(Mail.Text);
        Html = Flat(Page.Body!.TextContent);
    }

    public Words Words { get; }

    public DigestMail Mail { get; }

    public IDocument Page { get; }

    public string Text { get; }

    public string Html { get; }

    /// <summary>Both show it.</summary>
    public void InBoth(string words)
    {
        Assert.Contains(Flat(words), Text, StringComparison.Ordinal);
        Assert.Contains(Flat(words), Html, StringComparison.Ordinal);
    }

    public static string Flat(string text) => Spaces().Replace(text, " ").Trim();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
