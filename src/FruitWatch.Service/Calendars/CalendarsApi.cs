using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Calendars;

/// <summary>Calendar feeds in the web API: the caller's own, and nobody else's.</summary>
internal static class CalendarsApi
{
    public static void MapCalendarFeeds(this IEndpointRouteBuilder api)
    {
        var calendars = api.MapGroup("/me/calendars").WithTags("People").Needs(Right.OwnAccount);
        calendars.MapGet("", ListAsync).WithName("ListCalendars").WithSummary("Your calendar feeds, the last made first; not those taken back.");
        calendars.MapPost("", AddAsync).WithName("AddCalendar")
            .WithSummary("Makes an address under which a calendar program reads what is due. It is in this answer and nowhere else.")
            .ShowingOnce("address").Refusing(409);
        calendars.MapDelete("{id:long}", RevokeAsync).WithName("RevokeCalendar").WithSummary("Takes a calendar feed back: from now on it opens nothing.").Refusing(404);
    }

    private static async Task<Results<Ok<Listing<CalendarBody>>, ProblemHttpResult>> ListAsync(
        CalendarShelf shelf,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var before = paging.After ?? long.MaxValue;
        var rows = await shelf.Own.AsNoTracking().Where(feed => feed.Id < before).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, feed => feed.Id, CalendarBody.Of, context.Request));
    }

    private static async Task<Results<Created<CalendarMadeBody>, ProblemHttpResult>> AddAsync(Body<CalendarAsked> body, CalendarShelf shelf, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var asked = body.Value;
        if (asked.SiteId is { } site && !await shelf.Sites.AnyAsync(row => row.Id == site, context.RequestAborted))
            return ApiProblems.Field("siteId", "There is no such site.");
        if (await shelf.MakeAsync(asked.Name, asked.SiteId, context.RequestAborted) is not var (feed, address))
            return ApiProblems.Conflict($"You have {CalendarShelf.Most} calendar feeds. Take one back first.");
        context.Response.Headers.CacheControl = "no-store";
        return TypedResults.Created($"{ApiProblems.Root}/me/calendars", new CalendarMadeBody(address, feed.Id, feed.Name, feed.SiteId, feed.MadeAt));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RevokeAsync(
        [Description("Key of the calendar feed.")] long id, CalendarShelf shelf, HttpContext context) =>
        await shelf.RevokeAsync(id, context.RequestAborted) ? TypedResults.NoContent() : ApiProblems.NotFound("calendar feed", id);
}
