using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.People;

/// <summary>Puts an invitation into a letter: who asks, into what, as what, until when, and that nothing comes of leaving it.</summary>
internal static class InvitationWriter
{
    public static DigestMail Write(Person person, string? inviter, string cooperative, string link, LocalDate lastDay, Words words)
    {
        var name = OneLine.Of(cooperative, 80);
        var from = inviter is null ? name : OneLine.Of(inviter, 80);
        var subject = OneLine.Of(words.InvitationSubject(name), Gist.Longest);
        var letter = new Letter(
            words.Language,
            subject,
            words.InvitationSummary(from, name, person.Role),
            name,
            subject,
            words.InvitationGreeting(OneLine.Of(person.Name, 80)),
            words.InvitationSummary(from, name, person.Role),
            [],
            new LetterLink(words.InvitationOpen, link),
            [],
            [words.InvitationUntil(lastDay), words.InvitationNotYou, words.RepliesAreNotRead(name)]);
        return new DigestMail(letter.Subject, TextLetter.Of(letter), HtmlLetter.Of(letter));
    }
}
