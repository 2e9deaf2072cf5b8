using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Mails;

/// <summary>Mails in the web API.</summary>
internal static class MailsApi
{
    public static void MapMails(this IEndpointRouteBuilder api)
    {
        var mails = api.MapGroup("/mails").WithTags("Mails").Needs(Right.ReadMails);
        mails.MapGet("", ListAsync).WithName("ListMails").WithSummary("Mails that went out or wait to, the last written first.")
            .WithDescription("A coordinator's token sees those to all members, any other one those to its own person.");
        mails.MapGet("{id:long}", GetAsync).WithName("GetMail").WithSummary("A mail as it went out, in both of its forms.");
    }

    private static async Task<Results<Ok<Listing<MailBody>>, ProblemHttpResult>> ListAsync(
        FruitWatchStore store,
        HttpContext context,
        [Description("pending, sending, sent, unconfirmed, failed or expired; all where left out.")] string? state,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        MailState? wanted = null;
        if (state is not null)
        {
            wanted = Enum.GetValues<MailState>().Cast<MailState?>().FirstOrDefault(known => ApiJson.WordOf(known!.Value) == state);
            if (wanted is null)
                errors["state"] = [$"Expected {string.Join(", ", ApiJson.WordsOf<MailState>())}."];
        }

        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var before = paging.After ?? long.MaxValue;
        // Without the bodies, which a list does not give.
        var rows = await store.Outbox.AsNoTracking().Where(mail => mail.Id < before && (wanted == null || mail.State == wanted))
            .OrderByDescending(mail => mail.Id).Take(paging.Limit + 1)
            .Select(mail => new MailBody(
                mail.Id, mail.PersonId, mail.ToName, mail.ToAddress, mail.Subject, mail.State, mail.Attempts, mail.CreatedAt, mail.SentAt, mail.NotAfter, mail.LastError))
            .ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, mail => mail.Id, mail => mail, context.Request));
    }

    private static async Task<Results<Ok<WholeMailBody>, ProblemHttpResult>> GetAsync(
        [Description("Key of the mail.")] long id, FruitWatchStore store, HttpContext context) =>
        await store.Outbox.AsNoTracking().SingleOrDefaultAsync(mail => mail.Id == id, context.RequestAborted) is { } mail
            ? TypedResults.Ok(WholeMailBody.Of(mail))
            : ApiProblems.NotFound("mail", id);
}

/// <summary>A mail in a list.</summary>
[Description("The head of a mail, and where it stands.")]
internal sealed record MailBody(
    [property: Description("Key.")] long Id,
    [property: Description("Key of the person who gets it; null where it goes to no member, or to one who has been removed.")] long? PersonId,
    [property: Description("Name in the To field.")] string ToName,
    [property: Description("Address in the To field.")] string ToAddress,
    [property: Description("Subject.")] string Subject,
    [property: Description("Where it stands. unconfirmed: the connection broke when the relay may already have taken it; it is not sent again.")] MailState State,
    [property: Description("Attempts begun.")] int Attempts,
    [property: Description("When it was written.")] Instant CreatedAt,
    [property: Description("When the relay took it, or may have taken it.")] Instant? SentAt,
    [property: Description("Not sent any more from then on.")] Instant NotAfter,
    [property: Description("What the last attempt ran into; null after a good one.")] string? LastError);

/// <summary>A mail.</summary>
[Description("A mail as it went out. Its HTML is foreign text to whoever shows it: keep it in a frame of its own.")]
internal sealed record WholeMailBody(
    [property: Description("Its head.")] MailBody Head,
    [property: Description("The whole message as plain text.")] string Text,
    [property: Description("The whole message as HTML.")] string Html)
{
    public static WholeMailBody Of(OutgoingMail mail) => new(
        new MailBody(mail.Id, mail.PersonId, mail.ToName, mail.ToAddress, mail.Subject, mail.State, mail.Attempts, mail.CreatedAt, mail.SentAt, mail.NotAfter, mail.LastError),
        MailSecrets.Hide(mail.TextBody),
        MailSecrets.Hide(mail.HtmlBody));
}
