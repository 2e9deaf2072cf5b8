using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.People;

/// <summary>Members of a cooperative in the web API.</summary>
internal static class PeopleApi
{
    public static void MapPeople(this IEndpointRouteBuilder api)
    {
        var people = api.MapGroup("/people").WithTags("People").Needs(Right.ManagePeople);
        people.MapGet("", ListAsync).WithName("ListPeople").WithSummary("All members, in order of their keys; those too who are not active.").Refusing(400);
        people.MapGet("{id:long}", GetAsync).WithName("GetPerson").WithSummary("A member.").Giving<PersonBody>().GivingVersion().Refusing(404);
        people.MapPost("", AddAsync).WithName("InvitePerson")
            .WithSummary("Makes a member and sends the invitation. They become active by accepting it; a farm hand is at once, to work from a link.")
            .Refusing(409);
        people.MapPut("{id:long}", ChangeAsync).WithName("ChangePerson")
            .WithSummary("Changes a member.").NeedingVersion().Refusing(404, 409);
        people.MapDelete("{id:long}", RemoveAsync).WithName("RemovePerson")
            .WithSummary("Removes a member for good, with their tokens and links. Their log entries stay, without who made them.").NeedingVersion().Refusing(404, 409);
        people.MapPost("{id:long}/invitation", InviteAsync).WithName("SendInvitation")
            .WithSummary("Sends the invitation again. The one before it opens no longer.").Refusing(404, 409);
        people.MapDelete("{id:long}/invitation", TakeBackAsync).WithName("TakeBackInvitation")
            .WithSummary("Takes the invitation back: what was sent opens no longer.").Refusing(404);
    }

    /// <summary>A refusal in the words of the API.</summary>
    public static ProblemHttpResult Refused(MemberRefusedException refused, HttpContext context)
    {
        var said = Words.For("en").PeopleRefused(refused.Why);
        return refused.Why == MemberRefusal.TooOften ? ApiProblems.TooOften(context, said, TimeSpan.FromHours(1)) : ApiProblems.Conflict(said);
    }

    private static async Task<Results<Ok<Listing<PersonBody>>, ProblemHttpResult>> ListAsync(
        FruitWatchStore store,
        Invitations invitations,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var after = paging.After ?? 0;
        var rows = await store.People.AsNoTracking().Include(row => row.Sites).Include(row => row.Beds).AsSplitQuery()
            .Where(row => row.Id > after).OrderBy(row => row.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        var open = await invitations.OpenAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, row => row.Id, row => PersonBody.Of(row, Until(open, row)), context.Request));
    }

    private static async Task<IResult> GetAsync(
        [Description("Key of the member.")] long id, MemberBook members, Invitations invitations, HttpContext context)
    {
        if (await members.FindAsync(id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("member", id);
        return ETags.Ok(context, row, await ShowAsync(row, invitations, context.RequestAborted));
    }

    private static async Task<Results<Created<PersonBody>, ProblemHttpResult>> AddAsync(
        Body<PersonChange> body, MemberBook members, Invitations invitations, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        await members.CheckAsync(body.Value, null, body.Fields, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        try
        {
            var row = await members.AddAsync(body.Value, context.RequestAborted);
            context.Response.Headers.ETag = ETags.Of(row);
            return TypedResults.Created(
                FormattableString.Invariant($"{ApiProblems.Root}/people/{row.Id}"), await ShowAsync(row, invitations, context.RequestAborted));
        }
        catch (MemberRefusedException refused)
        {
            return Refused(refused, context);
        }
    }

    private static async Task<Results<Ok<PersonBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the member.")] long id, Body<PersonChange> body, MemberBook members, Invitations invitations, HttpContext context)
    {
        if (await members.FindAsync(id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("member", id);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        await members.CheckAsync(body.Value, row, body.Fields, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        try
        {
            await members.ChangeAsync(row, body.Value, context.RequestAborted);
        }
        catch (MemberRefusedException refused)
        {
            return Refused(refused, context);
        }

        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(await ShowAsync(row, invitations, context.RequestAborted));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RemoveAsync(
        [Description("Key of the member.")] long id, MemberBook members, HttpContext context)
    {
        if (await members.FindAsync(id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("member", id);
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        try
        {
            await members.RemoveAsync(row, context.RequestAborted);
            return TypedResults.NoContent();
        }
        catch (MemberRefusedException refused)
        {
            return Refused(refused, context);
        }
    }

    private static async Task<Results<Ok<PersonBody>, ProblemHttpResult>> InviteAsync(
        [Description("Key of the member.")] long id, MemberBook members, Invitations invitations, HttpContext context)
    {
        if (await members.FindAsync(id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("member", id);
        try
        {
            await members.InviteAsync(row, context.RequestAborted);
        }
        catch (MemberRefusedException refused)
        {
            return Refused(refused, context);
        }

        return TypedResults.Ok(await ShowAsync(row, invitations, context.RequestAborted));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> TakeBackAsync(
        [Description("Key of the member.")] long id, MemberBook members, Invitations invitations, HttpContext context)
    {
        if (await members.FindAsync(id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("member", id);
        await invitations.TakeBackAsync(row, context.RequestAborted);
        return TypedResults.NoContent();
    }

    private static async Task<PersonBody> ShowAsync(Person row, Invitations invitations, CancellationToken stop) =>
        PersonBody.Of(row, Until(await invitations.OpenAsync(stop, row.Id), row));

    private static NodaTime.Instant? Until(Dictionary<long, NodaTime.Instant> open, Person row) => open.TryGetValue(row.Id, out var until) ? until : null;
}
