using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.People;

/// <summary>Links that farm hands work from, in the web API.</summary>
internal static class LinksApi
{
    public static void MapLinks(this IEndpointRouteBuilder api)
    {
        var links = api.MapGroup("/people/{id:long}/links").WithTags("People").Needs(Right.ManagePeople);
        links.MapGet("", ListAsync).WithName("ListPersonalLinks").WithSummary("Links of a farm hand, the last made first.").Refusing(400, 404);
        links.MapPost("", AddAsync).WithName("MakePersonalLink")
            .WithSummary("Makes a link that a farm hand works from without a password. Its address is in this answer and nowhere else.").ShowingOnce("address").Refusing(404, 409);
        links.MapDelete("{linkId:long}", RevokeAsync).WithName("RevokePersonalLink").WithSummary("Takes a link back: it opens no longer.").Refusing(404);
    }

    private static async Task<Results<Ok<Listing<LinkBody>>, ProblemHttpResult>> ListAsync(
        [Description("Key of the member.")] long id,
        FruitWatchStore store,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        if (!await store.People.AnyAsync(row => row.Id == id, context.RequestAborted))
            return ApiProblems.NotFound("member", id);
        var before = paging.After ?? long.MaxValue;
        var rows = await store.PersonalLinks.AsNoTracking().Where(row => row.PersonId == id && row.Id < before)
            .OrderByDescending(row => row.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, row => row.Id, LinkBody.Of, context.Request));
    }

    private static async Task<Results<Created<NewLinkBody>, ProblemHttpResult>> AddAsync(
        [Description("Key of the member.")] long id, Body<LinkChange> body, MemberBook members, LinkBook links, HttpContext context)
    {
        if (await members.FindAsync(id, context.RequestAborted) is not { } person)
            return ApiProblems.NotFound("member", id);
        if (body.Refusal is { } refusal)
            return refusal;
        try
        {
            var (link, address) = await links.MakeAsync(person, body.Value.Name, body.Value.Days ?? LinkBook.UsualDays, context.RequestAborted);
            context.Response.Headers.CacheControl = "no-store";
            return TypedResults.Created(
                FormattableString.Invariant($"{ApiProblems.Root}/people/{id}/links"), new NewLinkBody(address, link.Id, link.Name, link.MadeAt, link.ExpiresAt));
        }
        catch (MemberRefusedException refused)
        {
            return PeopleApi.Refused(refused, context);
        }
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RevokeAsync(
        [Description("Key of the member.")] long id, [Description("Key of the link.")] long linkId, LinkBook links, HttpContext context) =>
        await links.RevokeAsync(id, linkId, context.RequestAborted) ? TypedResults.NoContent() : ApiProblems.NotFound("link", linkId);
}

/// <summary>A link as the API gives it.</summary>
[Description("A link that a farm hand works from.")]
internal sealed record LinkBody(
    [property: Description("Key.")] long Id,
    [property: Description("What its maker calls it.")] string Name,
    [property: Description("When it was made.")] Instant MadeAt,
    [property: Description("No longer of use from then on.")] Instant ExpiresAt,
    [property: Description("When it was taken back; null where it was not.")] Instant? RevokedAt,
    [property: Description("When it was last used, to the nearest few minutes; null where it never was.")] Instant? LastUsedAt)
{
    public static LinkBody Of(PersonalLink row) => new(row.Id, row.Name, row.MadeAt, row.ExpiresAt, row.RevokedAt, row.LastUsedAt);
}

/// <summary>A link that was just made.</summary>
[Description("A link with its address, which is given once.")]
internal sealed record NewLinkBody(
    [property: Description("Address to hand over, as a message or as a QR code. Whoever has it works as this farm hand. Null where the same request is sent again: it is not kept.")]
    string? Address,
    [property: Description("Key.")] long Id,
    [property: Description("What it is called.")] string Name,
    [property: Description("When it was made.")] Instant MadeAt,
    [property: Description("No longer of use from then on.")] Instant ExpiresAt);

/// <summary>A link as it is asked for.</summary>
[Description("A link to be made.")]
internal sealed record LinkChange(
    [property: Description("What to call it, such as the phone it is for; 1 to 80 characters.")] string Name,
    [property: Description("For how many days, 1 to 365; 90 where left out.")] int? Days) : IReadBody<LinkChange>
{
    public static LinkChange Read(JsonFields fields) => Of(fields);

    public static LinkChange Of(IFields fields)
    {
        var name = fields.Line("name", LinkBook.LongestName, required: true) ?? "";
        var days = fields.Number("days", 1, LinkBook.MostDays);
        if (days is { } given && given != Math.Floor(given))
            fields.Refuse("days", words => words.PeopleWholeDays);
        return new LinkChange(name, (int?)days);
    }
}
