using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>A message that shows somebody that messages reach them.</summary>
internal sealed class TestMessages(FruitWatchStore store, Visitor visitor, ServiceOptions options, MailSoon mails, IClock clock)
{
    /// <summary>Where the form of the page leads.</summary>
    public const string Path = "/account/mail/test";

    private static readonly Duration s_ofUse = Duration.FromHours(6);

    /// <summary>Puts one to the visitor in the outbox.</summary>
    /// <returns>False where they have no address that is known to be theirs, or mail to it comes back.</returns>
    public async Task<bool> SendAsync(CancellationToken stop)
    {
        var id = visitor.Person!.Id;
        if (await store.PeopleToTell().AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, stop) is not { } person)
            return false;
        var now = clock.GetCurrentInstant();
        var words = Words.For(person.Language, person.Units);
        // A second press within the second is the same press.
        var key = FormattableString.Invariant($"test:{person.Id}:{now.ToUnixTimeSeconds()}");
        await store.AddIfNewAsync(NewMail.To(person, key, Write(person, visitor.Cooperative!.Name, words), options, now, now + s_ofUse), stop);
        mails.Send();
        return true;
    }

    private DigestMail Write(Person person, string cooperative, Words words)
    {
        var name = OneLine.Of(cooperative, 80);
        var letter = new Letter(
            words.Language,
            words.TestSubject,
            words.TestSummary(name),
            name,
            words.TestSubject,
            words.SilenceGreeting(OneLine.Of(person.Name, 80)),
            words.TestSummary(name),
            [],
            new LetterLink(words.WishesTitle, options.BaseUrl.AbsoluteUri.TrimEnd('/') + "/account/mail"),
            [],
            [words.TestWhyYou, words.RepliesAreNotRead(name)]);
        return new DigestMail(letter.Subject, TextLetter.Of(letter), HtmlLetter.Of(letter));
    }
}

/// <summary>The form that asks for one.</summary>
internal static class TestMessageForm
{
    /// <summary>An address of its own, so that saving what one wants to be told does not count as sending mails.</summary>
    public static void MapTestMessageForm(this IEndpointRouteBuilder app) =>
        app.MapPost(TestMessages.Path, async (HttpContext context, TestMessages messages) =>
        {
            if (await FormPosts.ReadAsync(context) is null)
                return Results.BadRequest();
            return Results.LocalRedirect(await messages.SendAsync(context.RequestAborted) ? "/account/mail?done=test" : "/account/mail?done=no-test");
        }).Needs(Right.OwnAccount).RequireRateLimiting(RateLimits.Mails).ExcludeFromDescription();
}
