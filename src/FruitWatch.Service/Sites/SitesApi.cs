using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Sites;

/// <summary>Sites in the web API.</summary>
internal static class SitesApi
{
    public static void MapSites(this IEndpointRouteBuilder api)
    {
        var sites = api.MapGroup("/sites").WithTags("Sites").Needs(Right.ReadBeds);
        sites.MapGet("", ListAsync).WithName("ListSites").WithSummary("All sites, in order of their keys.").Refusing(400);
        sites.MapGet("{id:long}", GetAsync).WithName("GetSite").WithSummary("A site.").Giving<SiteBody>().GivingVersion().Refusing(404);
        sites.MapPost("", AddAsync).Needs(Right.ManageSites).WithName("AddSite").WithSummary("Makes a site.");
        sites.MapPut("{id:long}", ChangeAsync).Needs(Right.ManageSites).WithName("ChangeSite")
            .WithSummary("Changes a site.").NeedingVersion().Refusing(404, 409);
    }

    private static async Task<Results<Ok<Listing<SiteBody>>, ProblemHttpResult>> ListAsync(
        FruitWatchStore store,
        HttpContext context,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var after = paging.After ?? 0;
        var rows = await store.Sites.AsNoTracking().Where(site => site.Id > after).OrderBy(site => site.Id)
            .Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, site => site.Id, SiteBody.Of, context.Request));
    }

    private static async Task<IResult> GetAsync(
        [Description("Key of the site.")] long id, FruitWatchStore store, HttpContext context)
    {
        var row = await store.Sites.AsNoTracking().SingleOrDefaultAsync(site => site.Id == id, context.RequestAborted);
        return row is null ? ApiProblems.NotFound("site", id) : ETags.Ok(context, row, SiteBody.Of(row));
    }

    private static async Task<Results<Created<SiteBody>, ProblemHttpResult>> AddAsync(Body<SiteChange> body, SiteShelf shelf, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        await shelf.CheckAsync(body.Value, null, body.Fields, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        var row = await shelf.AddAsync(body.Value, context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Created(FormattableString.Invariant($"{ApiProblems.Root}/sites/{row.Id}"), SiteBody.Of(row));
    }

    private static async Task<Results<Ok<SiteBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the site.")] long id, Body<SiteChange> body, FruitWatchStore store, SiteShelf shelf, HttpContext context)
    {
        var row = await store.Sites.SingleOrDefaultAsync(site => site.Id == id, context.RequestAborted);
        if (row is null)
            return ApiProblems.NotFound("site", id);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        await shelf.CheckAsync(body.Value, row, body.Fields, context.RequestAborted);
        if (!body.Fields.Good)
            return ApiProblems.Fields(body.Fields.Errors);
        await shelf.ChangeAsync(row, body.Value, context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(SiteBody.Of(row));
    }
}
