using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Silences;

/// <summary>Puts the silence of a feed into a letter: which feed, since when, why, what it means for the beds, what to do.</summary>
internal static class SilenceWriter
{
    private const int SitesNamed = 20;

    public static DigestMail Write(SilentFeed feed, Person person, string cooperative, Uri baseUrl, Words words)
    {
        var letter = LetterOf(feed, person, OneLine.Of(cooperative, 80), baseUrl, words);
        return new DigestMail(letter.Subject, TextLetter.Of(letter), HtmlLetter.Of(letter));
    }

    private static Letter LetterOf(SilentFeed feed, Person person, string cooperative, Uri baseUrl, Words words)
    {
        var title = OneLine.Of(feed.Title, 80);
        var subject = OneLine.Of(words.SilenceSubject(title), Gist.Longest);
        var summary = words.SilenceSummary(title, feed.Sites.Count, feed.Sites[0].Local(feed.Since));
        return new Letter(
            words.Language,
            subject,
            summary,
            cooperative,
            Gist.Capital(words.SilenceSubject(title), words.Culture),
            words.SilenceGreeting(OneLine.Of(person.Name, 80)),
            summary,
            [.. feed.Sites.Take(SitesNamed).Select(site => SiteOf(site, words))],
            new LetterLink(words.SilenceOpenFeeds, baseUrl.AbsoluteUri.TrimEnd('/') + "/feeds"),
            feed.Sites.Count > SitesNamed ? [words.SilenceMoreSites(feed.Sites.Count - SitesNamed)] : [],
            [words.SilenceWhyYou(cooperative), words.SilenceOnce, words.RepliesAreNotRead(cooperative)]);
    }

    private static LetterSite SiteOf(SilentSite site, Words words)
    {
        var nothing = new LetterLines("", []);
        var health = site.Health;
        return new LetterSite(
            OneLine.Of(site.Site.Name, 80),
            health.LastGoodAt is { } good ? words.SilenceSince(site.Local(good)) : words.SilenceNever(site.Local(site.Since)),
            words.SilenceReason(OneLine.Of(health.Problem ?? "", 600)),
            words.SilenceMeaning(health.Slot, site.ForecastOf is { } issued ? site.Local(issued) : null),
            new LetterNotices("", [], []),
            new LetterNotices("", [], []),
            new LetterLines(words.ToDo, [new LetterLine(new LetterLink(""), words.SilenceToDo(health.State))]),
            nothing,
            nothing,
            nothing);
    }
}
