using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Webhooks;

/// <summary>Puts the end of a webhook into a letter: which one, why, what to do.</summary>
internal static class WebhookLetter
{
    public static DigestMail Write(Webhook webhook, string why, Person person, string cooperative, Uri baseUrl, Words words)
    {
        var (name, from) = (OneLine.Of(webhook.Name, 80), OneLine.Of(cooperative, 80));
        var subject = OneLine.Of(words.WebhooksStoppedSubject(name), Gist.Longest);
        var letter = new Letter(
            words.Language,
            subject,
            words.WebhooksStoppedWhy(why),
            from,
            subject,
            words.SilenceGreeting(OneLine.Of(person.Name, 80)),
            $"{words.WebhooksStoppedWhy(why)} {words.WebhooksStoppedToDo}",
            [],
            new LetterLink(words.WebhooksOpen, FormattableString.Invariant($"{baseUrl.AbsoluteUri.TrimEnd('/')}/cooperative/webhooks/{webhook.Id}")),
            [],
            [words.WebhooksWhyYou(from), words.RepliesAreNotRead(from)]);
        return new DigestMail(letter.Subject, TextLetter.Of(letter), HtmlLetter.Of(letter));
    }
}
