using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Feeds;

/// <summary>Feeds in the web API.</summary>
internal static class FeedsApi
{
    public static void MapFeeds(this IEndpointRouteBuilder api)
    {
        var feeds = api.MapGroup("/feeds").WithTags("Feeds").Needs(Right.ReadFeeds);
        feeds.MapGet("", ListAsync).WithName("ListFeeds").WithSummary("All feeds, in order of their keys.").Refusing(400);
        feeds.MapGet("{id:long}", GetAsync).WithName("GetFeed").WithSummary("A feed with its description.").Giving<FeedBody>().GivingVersion().Refusing(404);
        feeds.MapPost("", AddAsync).Needs(Right.ManageFeeds).WithName("AddFeed").WithSummary("Saves a trial that was seen to be good as a new feed.").Refusing(409);
        feeds.MapPut("{id:long}", ChangeAsync).Needs(Right.ManageFeeds).WithName("ChangeFeed")
            .WithSummary("Changes a feed to what a trial of it was seen to be.").NeedingVersion().Refusing(404, 409);
        feeds.MapDelete("{id:long}", DeleteAsync).Needs(Right.ManageFeeds).WithName("DeleteFeed").WithSummary("Deletes a feed that no site uses and of which no weather is kept.").NeedingVersion().Refusing(404, 409);
    }

    private static async Task<Results<Ok<Listing<FeedBody>>, ProblemHttpResult>> ListAsync(
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
        var rows = await store.Feeds.AsNoTracking().Where(feed => feed.Id > after).OrderBy(feed => feed.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        var sites = await SitesAsync(store, context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, feed => feed.Id, feed => FeedBody.Of(feed, sites), context.Request));
    }

    private static async Task<IResult> GetAsync([Description("Key of the feed.")] long id, FruitWatchStore store, HttpContext context) =>
        await store.Feeds.AsNoTracking().SingleOrDefaultAsync(feed => feed.Id == id, context.RequestAborted) is { } row
            ? ETags.Ok(context, row, FeedBody.Of(row, await SitesAsync(store, context.RequestAborted)))
            : ApiProblems.NotFound("feed", id);

    private static async Task<Results<Created<FeedBody>, ProblemHttpResult>> AddAsync(
        Body<FeedSaved> body, FeedTrials trials, FeedShelf shelf, FruitWatchStore store, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var saved = body.Value;
        if (await FindAsync(saved.DraftId, trials, store, context.RequestAborted) is not { } found)
            return NoDraft(saved.DraftId);
        try
        {
            var feed = await shelf.SaveAsync(found.Draft, found.Site, saved.Fills ?? [], saved.UnitsConfirmed ?? false, context.RequestAborted);
            context.Response.Headers.ETag = ETags.Of(feed);
            return TypedResults.Created(
                FormattableString.Invariant($"{ApiProblems.Root}/feeds/{feed.Id}"), FeedBody.Of(feed, await SitesAsync(store, context.RequestAborted)));
        }
        catch (FeedRefusedException why)
        {
            return Refused(why);
        }
    }

    private static async Task<Results<Ok<FeedBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the feed.")] long id, Body<FeedSaved> body, FeedTrials trials, FeedShelf shelf, FruitWatchStore store, HttpContext context)
    {
        if (await store.Feeds.SingleOrDefaultAsync(feed => feed.Id == id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("feed", id);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        var saved = body.Value;
        if (await FindAsync(saved.DraftId, trials, store, context.RequestAborted) is not { } found)
            return NoDraft(saved.DraftId);
        try
        {
            await shelf.ChangeAsync(row, found.Draft, found.Site, saved.Fills ?? [], saved.UnitsConfirmed ?? false, context.RequestAborted);
            context.Response.Headers.ETag = ETags.Of(row);
            return TypedResults.Ok(FeedBody.Of(row, await SitesAsync(store, context.RequestAborted)));
        }
        catch (FeedRefusedException why)
        {
            return Refused(why);
        }
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DeleteAsync(
        [Description("Key of the feed.")] long id, FeedShelf shelf, FruitWatchStore store, HttpContext context)
    {
        if (await store.Feeds.SingleOrDefaultAsync(feed => feed.Id == id, context.RequestAborted) is not { } row)
            return ApiProblems.NotFound("feed", id);
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        try
        {
            await shelf.DeleteAsync(row, context.RequestAborted);
            return TypedResults.NoContent();
        }
        catch (FeedRefusedException why)
        {
            return Refused(why);
        }
    }

    /// <summary>A draft however old it is: that it is too old is told as that.</summary>
    private static async Task<(FeedDraft Draft, Site Site)?> FindAsync(Guid id, FeedTrials trials, FruitWatchStore store, CancellationToken stop)
    {
        if (await trials.FindAsync(id, stop) is { } found)
            return found;
        return await store.FeedDrafts.SingleOrDefaultAsync(row => row.Id == id, stop) is { } old
            ? (old, await store.Sites.AsNoTracking().SingleAsync(site => site.Id == old.SiteId, stop))
            : null;
    }

    private static Task<List<Site>> SitesAsync(FruitWatchStore store, CancellationToken stop) =>
        store.Sites.AsNoTracking().OrderBy(site => site.Id).ToListAsync(stop);

    private static ProblemHttpResult NoDraft(Guid id) =>
        ApiProblems.Field("draftId", $"There is no trial {id}. It may have been saved, or thrown away after a day. Try the feed again: POST {ApiProblems.Root}/feed-trials.");

    private static ProblemHttpResult Refused(FeedRefusedException why) => ApiProblems.Conflict(Text.Words.For("en").FeedsRefused(why));
}
