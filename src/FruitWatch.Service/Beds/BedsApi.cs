using System.ComponentModel;
using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using BedRow = FruitWatch.Store.Entities.Bed;

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

    private static async Task<Results<Created<BedBody>, ProblemHttpResult>> AddAsync(
        Body<BedChange> body, FruitWatchStore store, BedCatalogue catalogue, Visitor visitor, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var row = new BedRow { Name = "", SpeciesKey = "" };
        body.Value.Put(row);
        await CheckAsync(body, row, store, catalogue, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        await using var transaction = await store.JoinAsync(context.RequestAborted);
        store.Beds.Add(row);
        await store.SaveChangesAsync(context.RequestAborted);
        if (visitor.Person is { Role: Role.Grower } grower)
        {
            // Who makes a bed answers for it, and is told about its site from then on.
            store.BedGrowers.Add(new BedGrower { BedId = row.Id, PersonId = grower.Id });
            if (!grower.Sites.Exists(told => told.SiteId == row.SiteId))
                store.PersonSites.Add(new PersonSite { PersonId = grower.Id, SiteId = row.SiteId });
            await store.SaveChangesAsync(context.RequestAborted);
        }

        await transaction.CommitAsync(context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Created(FormattableString.Invariant($"{ApiProblems.Root}/beds/{row.Id}"), BedBody.Of(row));
    }

    private static async Task<Results<Ok<BedBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the bed.")] long id, Body<BedChange> body, FruitWatchStore store, BedCatalogue catalogue, BedAccess access, HttpContext context)
    {
        var row = await store.Beds.Include(bed => bed.Layers.OrderBy(layer => layer.Id))
            .SingleOrDefaultAsync(bed => bed.Id == id, context.RequestAborted);
        if (row is null)
            return ApiProblems.NotFound("bed", id);
        if (!await access.MayAsync(Right.ManageBeds, id, context.RequestAborted))
            return ApiProblems.NotOwn("bed", id);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        if (body.Value.SiteId != row.SiteId)
            body.Fields.Refuse("siteId", "A bed stays where it lies; make another one at the other site.");
        await CheckLogAsync(body, id, store, context.RequestAborted);
        body.Value.Put(row);
        await CheckAsync(body, row, store, catalogue, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        // A new filling alone is a change of the bed too, and has to raise its version.
        store.Entry(row).State = EntityState.Modified;
        await store.SaveChangesAsync(context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(BedBody.Of(row));
    }

    private static async Task CheckAsync(Body<BedChange> body, BedRow row, FruitWatchStore store, BedCatalogue catalogue, CancellationToken stop)
    {
        if (!await store.Sites.AnyAsync(site => site.Id == row.SiteId, stop))
            body.Fields.Refuse("siteId", $"There is no site {row.SiteId}.");
        try
        {
            BedReading.ToModel(row, catalogue);
        }
        catch (BedException wrong)
        {
            body.Fields.Refuse(wrong.FieldName, wrong.Message);
        }
    }

    private static async Task CheckLogAsync(Body<BedChange> body, long id, FruitWatchStore store, CancellationToken stop)
    {
        var inoculated = body.Value.InoculatedOn;
        if (await store.LogEntries.AnyAsync(entry => entry.BedId == id && entry.UndoneAt == null && entry.On < inoculated, stop))
            body.Fields.Refuse("inoculatedOn", "The log has entries from before that day. Undo or correct them first.");
    }
}
