using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.People;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>What people want to be told, in the web API.</summary>
internal static class WishesApi
{
    /// <summary>Nothing is put off for longer. [d]</summary>
    public const int LongestSnooze = 31;

    public static void MapWishes(this IEndpointRouteBuilder api)
    {
        api.MapGet("/me/wishes", GetAsync).WithTags("People").Needs(Right.OwnSettings).WithName("GetWishes")
            .WithSummary("What whom the token acts for wants to be told, and when.").Giving<PersonWishesBody>().GivingVersion();
        api.MapPut("/me/wishes", ChangeAsync).WithTags("People").Needs(Right.OwnSettings).WithName("ChangeWishes")
            .WithSummary("Changes what whom the token acts for is told.").NeedingVersion().Refusing(409);
        api.MapPost("/me/test-message", TestAsync).WithTags("People").Needs(Right.OwnSettings).WithName("SendTestMessage")
            .WithSummary("Sends whom the token acts for a mail that shows that mails reach them.").RequireRateLimiting(RateLimits.Mails).Refusing(409);
        api.MapPost("/notices/{id:long}/snooze", SnoozeAsync).WithTags("Notices").Needs(Right.ReadBeds).Needs(Right.OwnSettings).WithName("SnoozeNotice")
            .WithSummary("Puts an open notice off for whom the token acts for; others are told as before.").Refusing(404, 409);
        api.MapPost("/people/{id:long}/resume-mail", ResumeAsync).WithTags("People").Needs(Right.ManagePeople).WithName("ResumeMail")
            .WithSummary("Mail to a member's address is tried again after it came back.").Refusing(404, 409);
    }

    private static async Task<IResult> GetAsync(MemberBook members, Visitor visitor, HttpContext context)
    {
        var row = (await members.FindAsync(visitor.Person!.Id, context.RequestAborted))!;
        return ETags.Ok(context, row, PersonWishesBody.Of(row));
    }

    private static async Task<Results<Ok<PersonWishesBody>, ProblemHttpResult>> ChangeAsync(
        Body<PersonWishes> body, MemberBook members, WishBook book, Visitor visitor, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var row = (await members.FindAsync(visitor.Person!.Id, context.RequestAborted))!;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        await book.CheckAsync(body.Value, row, body.Fields, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        await book.PutAsync(body.Value, row, context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(PersonWishesBody.Of(row));
    }

    private static async Task<Results<Accepted, ProblemHttpResult>> TestAsync(TestMessages messages, HttpContext context) =>
        await messages.SendAsync(context.RequestAborted)
            ? TypedResults.Accepted((string?)null)
            : ApiProblems.Conflict(Words.For("en").TestNotPossible);

    private static async Task<Results<Ok<SnoozeBody>, ProblemHttpResult>> SnoozeAsync(
        [Description("Key of the notice.")] long id, Body<SnoozeChange> body, FruitWatchStore store, Visitor visitor, IClock clock, HttpContext context)
    {
        if (await store.Notices.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, context.RequestAborted) is not { } notice)
            return ApiProblems.NotFound("notice", id);
        if (body.Refusal is { } refusal)
            return refusal;
        var zone = await store.Sites.Where(site => site.Id == notice.SiteId).Select(site => site.ZoneId).SingleAsync(context.RequestAborted);
        var now = clock.GetCurrentInstant();
        var today = now.InZone(DateTimeZoneProviders.Tzdb[zone]).Date;
        if (body.Value.Until <= today || body.Value.Until > today.PlusDays(LongestSnooze))
            return ApiProblems.Field("until", $"Expected a day from {ApiText.Day(today.PlusDays(1))} to {ApiText.Day(today.PlusDays(LongestSnooze))}.");
        if (notice.State != NoticeState.Open)
            return ApiProblems.Conflict("The notice has ended.");
        store.MailDeeds.Add(Snoozes.Make(visitor.Person!, id, body.Value.Until, now));
        await store.SaveChangesAsync(context.RequestAborted);
        return TypedResults.Ok(new SnoozeBody(id, body.Value.Until));
    }

    private static async Task<Results<Ok<MailStandingBody>, ProblemHttpResult>> ResumeAsync(
        [Description("Key of the member.")] long id, MemberBook members, WishBook book, HttpContext context)
    {
        if (await members.FindAsync(id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("member", id);
        await book.ResumeAsync(row, context.RequestAborted);
        return TypedResults.Ok(new MailStandingBody(row.Id, row.MailPausedAt, row.MailPausedWhy));
    }
}

/// <summary>Until when a notice is put off, as it is sent.</summary>
[Description("Until when a notice is put off.")]
internal sealed record SnoozeChange(
    [property: Description("The site's local day on which they want to be told again, if it still holds then: tomorrow to a month from now.")] LocalDate Until)
    : IReadBody<SnoozeChange>
{
    public static SnoozeChange Read(JsonFields fields) => new(fields.Date("until", required: true) ?? default);
}

/// <summary>Until when a notice is put off.</summary>
[Description("A notice that whom the token acts for has put off.")]
internal sealed record SnoozeBody(
    [property: Description("Key of the notice.")] long NoticeId,
    [property: Description("The site's local day on which they are told again, if it still holds.")] LocalDate Until);

/// <summary>Whether mail reaches somebody.</summary>
[Description("Whether mail to a member's address is sent.")]
internal sealed record MailStandingBody(
    [property: Description("Key of the member.")] long Id,
    [property: Description("Since when nothing is sent to their address, because mail to it came back; null while it works.")] Instant? MailPausedAt,
    [property: Description("What the other server said; null while the address works.")] string? MailPausedWhy);
