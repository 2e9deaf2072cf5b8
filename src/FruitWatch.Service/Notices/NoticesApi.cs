using System.ComponentModel;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Notices;

/// <summary>Notices in the web API.</summary>
internal static class NoticesApi
{
    public static void MapNotices(this IEndpointRouteBuilder api)
    {
        api.MapGet("/notices", (
                FruitWatchStore store,
                HttpContext context,
                [Description("open, done, withdrawn or lapsed; all where left out.")] string? state,
                [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
                [Description("From next of the last part.")] string? cursor) =>
                ListAsync(null, store, context, state, limit, cursor))
            .Needs(Right.ReadBeds).WithTags("Notices").WithName("ListNotices").WithSummary("Notices of all beds, the last issued first.").Refusing(400);
        api.MapGet("/notices/{id:long}", async Task<Results<Ok<NoticeBody>, ProblemHttpResult>> (
                [Description("Key of the notice.")] long id, FruitWatchStore store, HttpContext context) =>
                await store.Notices.AsNoTracking().SingleOrDefaultAsync(notice => notice.Id == id, context.RequestAborted) is { } row
                    ? TypedResults.Ok(NoticeBody.Of(row))
                    : ApiProblems.NotFound("notice", id))
            .Needs(Right.ReadBeds).WithTags("Notices").WithName("GetNotice").WithSummary("A notice as it stands.").Refusing(404);
        api.MapGet("/beds/{id:long}/notices", (
                [Description("Key of the bed.")] long id,
                FruitWatchStore store,
                HttpContext context,
                [Description("open, done, withdrawn or lapsed; all where left out.")] string? state,
                [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
                [Description("From next of the last part.")] string? cursor) =>
                ListAsync(id, store, context, state, limit, cursor))
            .Needs(Right.ReadBeds).WithTags("Notices").WithName("ListBedNotices").WithSummary("Notices of a bed, the last issued first.").Refusing(400, 404);
    }

    private static async Task<Results<Ok<Listing<NoticeBody>>, ProblemHttpResult>> ListAsync(
        long? bedId, FruitWatchStore store, HttpContext context, string? state, string? limit, string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        NoticeState? wanted = null;
        if (state is not null)
        {
            wanted = Enum.GetValues<NoticeState>().Cast<NoticeState?>().FirstOrDefault(known => ApiJson.WordOf(known!.Value) == state);
            if (wanted is null)
                errors["state"] = [$"Expected {string.Join(", ", ApiJson.WordsOf<NoticeState>())}."];
        }

        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        if (bedId is { } id && !await store.Beds.AnyAsync(bed => bed.Id == id, context.RequestAborted))
            return ApiProblems.NotFound("bed", id);
        var before = paging.After ?? long.MaxValue;
        var notices = store.Notices.AsNoTracking().Where(notice => notice.Id < before);
        if (bedId is not null)
            notices = notices.Where(notice => notice.BedId == bedId);
        if (wanted is not null)
            notices = notices.Where(notice => notice.State == wanted);
        var rows = await notices.OrderByDescending(notice => notice.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, notice => notice.Id, NoticeBody.Of, context.Request));
    }
}

/// <summary>A notice as the API gives it.</summary>
[Description("A notice as it was last told.")]
internal sealed record NoticeBody(
    [property: Description("Key.")] long Id,
    [property: Description("Key of the site.")] long SiteId,
    [property: Description("Key of the bed; null for a notice about the whole site.")] long? BedId,
    [property: Description("What it tells.")] NoticeKind Kind,
    [property: Description("Counts the notices of this kind at this bed.")] int Episode,
    [property: Description("Where it stands.")] NoticeState State,
    [property: Description("Local day on which it was issued.")] LocalDate FirstOn,
    [property: Description("Local day on which it is to be done, or is expected.")] LocalDate Day,
    [property: Description("First day of the window of pins or harvest; the day itself for other kinds.")] LocalDate From,
    [property: Description("Last day of the window of pins or harvest; the day itself for other kinds.")] LocalDate Until,
    [property: Description("Last local day on which doing it still helps.")] LocalDate Deadline,
    [property: Description("Water to give, in litres.")] double? Litres,
    [property: Description("How sure.")] NoticeConfidence Confidence,
    [property: Description("It cannot wait.")] bool Urgent,
    [property: Description("Why, and the numbers behind it.")] ReasonBody Reason,
    [property: Description("It makes somebody think of eating: show the lookalikes of the species with it.")] bool NeedsEatingCaution,
    [property: Description("Local day on which it was closed.")] LocalDate? ClosedOn,
    [property: Description("Why it was closed.")] ClosingCode? ClosedWhy)
{
    public static NoticeBody Of(IssuedNotice row)
    {
        var draft = NoticeRows.Draft(row);
        return new NoticeBody(
            row.Id,
            row.SiteId,
            row.BedId,
            draft.Kind,
            row.Episode,
            row.State,
            row.FirstOn,
            row.Day,
            draft.From,
            draft.Until,
            row.Deadline,
            row.Amount,
            draft.Confidence,
            draft.Urgent,
            new ReasonBody(draft.Reason.Code, draft.Reason.Numbers.ToDictionary(number => ApiJson.WordOf(number.Key), number => number.Value)),
            draft.NeedsEatingCaution,
            row.ClosedOn,
            NoticeRows.ClosingOf(row));
    }
}

/// <summary>A notice's reason as the API gives it.</summary>
[Description("Why a notice was issued.")]
internal sealed record ReasonBody(
    [property: Description("Which reason.")] ReasonCode Code,
    [property: Description("The numbers behind it, in °C, mm, days or shares, by name.")] IReadOnlyDictionary<string, double> Numbers);
