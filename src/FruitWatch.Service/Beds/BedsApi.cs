using System.ComponentModel;
using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Beds;

/// <summary>Beds in the web API, as they were made.</summary>
internal static class BedsApi
{
    public static void MapBeds(this IEndpointRouteBuilder api)
    {
        var beds = api.MapGroup("/beds").WithTags("Beds").Needs(Right.ReadBeds);
        beds.MapGet("", ListAsync).WithName("ListBeds").WithSummary("All beds, in order of their keys; retired ones too.").Refusing(400);
        beds.MapGet("{id:long}", GetAsync).WithName("GetBed").WithSummary("A bed.").Giving<BedBody>().GivingVersion().Refusing(404);
        beds.MapPost("", AddAsync).Needs(Right.ManageBeds).WithName("AddBed").WithSummary("Makes a bed.");
        beds.MapPut("{id:long}", ChangeAsync).Needs(Right.ManageBeds).WithName("ChangeBed")
            .WithSummary("Changes a bed.").NeedingVersion().Refusing(404, 409);
    }

    private static async Task<Results<Ok<Listing<BedBody>>, ProblemHttpResult>> ListAsync(
        FruitWatchStore store,
        HttpContext context,
        [Description("Only those of this site.")] string? siteId,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        long site = 0;
        if (siteId is not null && !long.TryParse(siteId, NumberStyles.None, CultureInfo.InvariantCulture, out site))
            errors["siteId"] = ["Expected the key of a site."];
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var after = paging.After ?? 0;
        var rows = await store.Beds.AsNoTracking().Include(bed => bed.Layers)
            .Where(bed => bed.Id > after && (siteId == null || bed.SiteId == site))
            .OrderBy(bed => bed.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, bed => bed.Id, BedBody.Of, context.Request));
    }

    private static async Task<IResult> GetAsync([Description("Key of the bed.")] long id, FruitWatchStore store, HttpContext context)
    {
        var row = await store.Beds.AsNoTracking().Include(bed => bed.Layers).SingleOrDefaultAsync(bed => bed.Id == id, context.RequestAborted);
        return row is null ? ApiProblems.NotFound("bed", id) : ETags.Ok(context, row, BedBody.Of(row));
    }

    private static async Task<Results<Created<BedBody>, ProblemHttpResult>> AddAsync(Body<BedChange> body, BedShelf shelf, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        await shelf.CheckAsync(body.Value, null, body.Fields, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        var row = await shelf.AddAsync(body.Value, context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Created(FormattableString.Invariant($"{ApiProblems.Root}/beds/{row.Id}"), BedBody.Of(row));
    }

    private static async Task<Results<Ok<BedBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the bed.")] long id, Body<BedChange> body, BedShelf shelf, BedAccess access, HttpContext context)
    {
        var row = await shelf.FindAsync(id, context.RequestAborted);
        if (row is null)
            return ApiProblems.NotFound("bed", id);
        if (!await access.MayAsync(Right.ManageBeds, id, context.RequestAborted))
            return ApiProblems.NotOwn("bed", id);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        await shelf.CheckAsync(body.Value, row, body.Fields, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        await shelf.ChangeAsync(row, body.Value, context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(BedBody.Of(row));
    }
}
