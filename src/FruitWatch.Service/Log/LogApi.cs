using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.People;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Log;

/// <summary>The log of a bed in the web API.</summary>
internal static class LogApi
{
    public static void MapLog(this IEndpointRouteBuilder api)
    {
        var log = api.MapGroup("/beds/{id:long}/log").WithTags("Log").Needs(Right.ReadBeds);
        log.MapGet("", ListAsync).WithName("ListLogEntries").WithSummary("Entries of a bed that count, the last made first.").Refusing(400, 404);
        log.MapGet("{entryId:long}", GetAsync).WithName("GetLogEntry").WithSummary("An entry that counts; 404 once it was undone.").Refusing(404);
        log.MapPost("", AddAsync).Needs(Right.WriteLog).WithName("AddLogEntry").WithSummary("Makes an entry; the account is recomputed with it.").Refusing(404);
        log.MapPut("{entryId:long}", CorrectAsync).Needs(Right.WriteLog).WithName("CorrectLogEntry")
            .WithSummary("Puts another entry, with its own key, in the place of one.").Refusing(404, 409);
        log.MapDelete("{entryId:long}", UndoAsync).Needs(Right.WriteLog).WithName("UndoLogEntry")
            .WithSummary("Undoes an entry: the account is as if it had never been made.").Refusing(404, 409);
    }

    private static async Task<Results<Ok<Listing<LogEntryBody>>, ProblemHttpResult>> ListAsync(
        [Description("Key of the bed.")] long id,
        FruitWatchStore store,
        Recorders recorders,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        if (!await store.Beds.AnyAsync(bed => bed.Id == id, context.RequestAborted))
            return ApiProblems.NotFound("bed", id);
        var before = paging.After ?? long.MaxValue;
        var rows = await store.LogEntries.AsNoTracking()
            .Where(entry => entry.BedId == id && entry.UndoneAt == null && entry.Id < before)
            .OrderByDescending(entry => entry.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        var names = await recorders.NamesAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, entry => entry.Id, entry => LogEntryBody.Of(entry, names), context.Request));
    }

    private static async Task<Results<Ok<LogEntryBody>, ProblemHttpResult>> GetAsync(
        [Description("Key of the bed.")] long id, [Description("Key of the entry.")] long entryId, LogBook log, Recorders recorders, HttpContext context) =>
        await log.FindAsync(id, entryId, context.RequestAborted) is { } row
            ? TypedResults.Ok(LogEntryBody.Of(row, await recorders.NamesAsync(context.RequestAborted)))
            : ApiProblems.NotFound("entry that counts under the key", entryId);

    private static async Task<Results<Created<LogEntryBody>, ProblemHttpResult>> AddAsync(
        [Description("Key of the bed.")] long id,
        Body<LogEntryChange> body,
        FruitWatchStore store,
        LogBook log,
        BedAccess access,
        Recorders recorders,
        HttpContext context)
    {
        if (!await store.Beds.AnyAsync(bed => bed.Id == id, context.RequestAborted))
            return ApiProblems.NotFound("bed", id);
        if (!await access.MayAsync(Right.WriteLog, id, context.RequestAborted))
            return ApiProblems.NotOwn("bed", id);
        if (body.Refusal is { } refusal)
            return refusal;
        var row = body.Value.ToRow(id);
        return await TryAddAsync(log, row, null, context.RequestAborted) is { } wrong
            ? wrong
            : TypedResults.Created(FormattableString.Invariant($"{ApiProblems.Root}/beds/{id}/log/{row.Id}"), LogEntryBody.Of(row, await recorders.NamesAsync(context.RequestAborted)));
    }

    private static async Task<Results<Ok<LogEntryBody>, ProblemHttpResult>> CorrectAsync(
        [Description("Key of the bed.")] long id,
        [Description("Key of the entry.")] long entryId,
        Body<LogEntryChange> body,
        LogBook log,
        BedAccess access,
        Recorders recorders,
        HttpContext context)
    {
        if (await log.FindAsync(id, entryId, context.RequestAborted) is not { } replaced)
            return ApiProblems.NotFound("entry that counts under the key", entryId);
        if (!await access.MayAsync(Right.WriteLog, id, context.RequestAborted))
            return ApiProblems.NotOwn("bed", id);
        if (body.Refusal is { } refusal)
            return refusal;
        var row = body.Value.ToRow(id);
        return await TryAddAsync(log, row, replaced, context.RequestAborted) is not { } wrong
            ? TypedResults.Ok(LogEntryBody.Of(row, await recorders.NamesAsync(context.RequestAborted)))
            : wrong;
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> UndoAsync(
        [Description("Key of the bed.")] long id, [Description("Key of the entry.")] long entryId, LogBook log, BedAccess access, HttpContext context)
    {
        if (await log.FindAsync(id, entryId, context.RequestAborted) is not { } entry)
            return ApiProblems.NotFound("entry that counts under the key", entryId);
        if (!await access.MayAsync(Right.WriteLog, id, context.RequestAborted))
            return ApiProblems.NotOwn("bed", id);
        await log.UndoAsync(entry, context.RequestAborted);
        return TypedResults.NoContent();
    }

    private static async Task<ProblemHttpResult?> TryAddAsync(LogBook log, LogEntry row, LogEntry? replaced, CancellationToken stop)
    {
        try
        {
            await log.AddAsync(row, replaced, stop);
            return null;
        }
        catch (LogEntryException wrong)
        {
            return ApiProblems.Field(wrong.FieldName == "depth" ? "depthM" : wrong.FieldName, wrong.Message);
        }
    }
}
