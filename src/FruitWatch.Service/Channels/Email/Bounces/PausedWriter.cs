using FruitWatch.Service.Digests;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Puts into a letter to a coordinator that somebody's address takes no mail: whose, why, what it means, what to do.</summary>
internal static class PausedWriter
{
    public static DigestMail Write(Person paused, Person to, string cooperative, Uri baseUrl, Words words)
    {
        var name = OneLine.Of(paused.Name, 80);
        var group = OneLine.Of(cooperative, 80);
        var subject = OneLine.Of(words.BounceSubject(name), Gist.Longest);
        var nothing = new LetterLines("", []);
        var none = new LetterNotices("", [], []);
        var letter = new Letter(
            words.Language,
            subject,
            words.BounceSummary(name),
            group,
            Gist.Capital(words.BounceSubject(name), words.Culture),
            words.BounceGreeting(OneLine.Of(to.Name, 80)),
            words.BounceSummary(name),
            [
                new LetterSite(
                    name,
                    words.BounceAddress(OneLine.Of(paused.Email, 254)),
                    words.BounceReason(OneLine.Of(paused.MailPausedWhy ?? "", 300)),
                    words.BounceMeaning(name),
                    none,
                    none,
                    new LetterLines(words.ToDo, [new LetterLine(new LetterLink(""), paused.EmailConfirmedAt is null ? words.BounceToDo(name) : words.BounceToDoTheirs(name))]),
                    nothing,
                    nothing,
                    nothing),
            ],
            new LetterLink(words.BounceOpenPerson, FormattableString.Invariant($"{baseUrl.AbsoluteUri.TrimEnd('/')}/people/{paused.Id}")),
            [],
            [words.BounceWhyYou(group), words.BounceOnce, words.RepliesAreNotRead(group)]);
        return new DigestMail(letter.Subject, TextLetter.Of(letter), HtmlLetter.Of(letter));
    }
}
