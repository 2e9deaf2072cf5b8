using System.ComponentModel;
using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Feeds;

/// <summary>Trials of descriptions in the web API.</summary>
internal static class FeedTrialsApi
{
    /// <summary>As long as the longest answer that any description takes.</summary>
    public const int LongestFile = 67_108_864;

    public static void MapFeedTrials(this IEndpointRouteBuilder api)
    {
        var trials = api.MapGroup("/feed-trials").WithTags("Feeds").Needs(Right.ManageFeeds);
        trials.MapPost("", MakeAsync).WithName("TryFeed")
            .WithSummary("Tries a description for a site: asks the feed once, and tells what was understood. Nothing counts yet.").OutsideTransaction();
        trials.MapGet("{id:guid}", GetAsync).WithName("GetFeedTrial").WithSummary("A trial: what its description makes of the answer that is kept.").Refusing(404);
        trials.MapPut("{id:guid}", ChangeAsync).WithName("ChangeFeedTrial")
            .WithSummary("Tries another description on the answer that is there. The feed is not asked.").Refusing(404);
        trials.MapPost("{id:guid}/fetch", FetchAsync).WithName("FetchFeedTrial").WithSummary("Asks the feed again, once.").OutsideTransaction();
        trials.MapPut("{id:guid}/file", HandInAsync).WithName("HandInFeedFile").WithSummary("Hands in the file of a feed that is read from one.")
            .WithMetadata(new RequestSizeLimitAttribute(LongestFile + 1)).Accepts<byte[]>("text/csv", "text/plain", "application/json", "application/gzip", "application/octet-stream")
            .Refusing(404, 409, 413, 415);
    }

    private static async Task<Results<Created<TrialBody>, ProblemHttpResult>> MakeAsync(
        Body<TrialMade> body, FeedTrials trials, FruitWatchStore store, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var (made, stop) = (body.Value, context.RequestAborted);
        if (await store.Sites.AsNoTracking().SingleOrDefaultAsync(row => row.Id == made.SiteId, stop) is not { } site)
            return ApiProblems.Field("siteId", FormattableString.Invariant($"There is no site {made.SiteId}."));
        Feed? changed = null;
        if (made.FeedId is { } feedId
            && (changed = await store.Feeds.AsNoTracking().SingleOrDefaultAsync(row => row.Id == feedId && row.CooperativeId == site.CooperativeId, stop)) is null)
            return ApiProblems.Field("feedId", FormattableString.Invariant($"The site's cooperative has no feed {feedId}."));
        if (made.PresetId is { } presetId && FeedPresets.Find(presetId) is null)
            return ApiProblems.Field("presetId", $"There is no preset '{presetId}'. GET {ApiProblems.Root}/feed-presets lists them.");
        if (Parse(trials, made.DescriptionText ?? changed?.Description ?? FeedPresets.Find(made.PresetId!)!.Json, out var description) is { } problems)
            return problems;
        var given = new TrialChange(made.Title, made.Station, made.Key);
        var draft = changed is null
            ? await trials.MakeAsync(site, description!, given, stop)
            : await trials.MakeAsync(site, changed, description!, given, stop);
        try
        {
            // What is there of a feed that is changed is looked at first, and asked for again only when somebody says so.
            var seen = draft.Body is null && !description!.IsUpload ? await trials.FetchAsync(draft, site, stop) : await trials.LookAsync(draft, site, stop);
            return TypedResults.Created(FormattableString.Invariant($"{ApiProblems.Root}/feed-trials/{draft.Id}"), TrialBody.Of(seen));
        }
        catch (TrialTooOftenException often)
        {
            return TooOften(context, often);
        }
    }

    private static async Task<Results<Ok<TrialBody>, ProblemHttpResult>> GetAsync(
        [Description("Key of the trial.")] Guid id, FeedTrials trials, HttpContext context) =>
        await trials.FindAsync(id, context.RequestAborted) is { } found
            ? TypedResults.Ok(TrialBody.Of(await trials.LookAsync(found.Draft, found.Site, context.RequestAborted)))
            : Gone(id);

    private static async Task<Results<Ok<TrialBody>, ProblemHttpResult>> ChangeAsync(
        [Description("Key of the trial.")] Guid id, Body<TrialChanged> body, FeedTrials trials, HttpContext context)
    {
        if (await trials.FindAsync(id, context.RequestAborted) is not { } found)
            return Gone(id);
        if (body.Refusal is { } refusal)
            return refusal;
        FeedDescription? description = null;
        if (body.Value.DescriptionText is { } text && Parse(trials, text, out description) is { } problems)
            return problems;
        var given = new TrialChange(body.Value.Title, body.Value.Station, body.Value.Key);
        return TypedResults.Ok(TrialBody.Of(await trials.ChangeAsync(found.Draft, found.Site, description, given, context.RequestAborted)));
    }

    private static async Task<Results<Ok<TrialBody>, ProblemHttpResult>> FetchAsync(
        [Description("Key of the trial.")] Guid id, FeedTrials trials, HttpContext context)
    {
        if (await trials.FindAsync(id, context.RequestAborted) is not { } found)
            return Gone(id);
        try
        {
            return TypedResults.Ok(TrialBody.Of(await trials.FetchAsync(found.Draft, found.Site, context.RequestAborted)));
        }
        catch (TrialTooOftenException often)
        {
            return TooOften(context, often);
        }
    }

    private static async Task<Results<Ok<TrialBody>, ProblemHttpResult>> HandInAsync(
        [Description("Key of the trial.")] Guid id,
        FeedTrials trials,
        HttpContext context,
        [Description("The file's name, as messages shall call it.")] string? name = null)
    {
        if (await trials.FindAsync(id, context.RequestAborted) is not { } found)
            return Gone(id);
        if (!trials.Parse(found.Draft.Description).IsUpload)
            return ApiProblems.Conflict("This feed is asked over the network; it takes no file. Write \"file:{upload}\" as its request.url, if it is to be read from one.");
        if (context.Request.ContentLength > LongestFile)
            return ApiProblems.TooLarge(LongestFile);
        return TypedResults.Ok(TrialBody.Of(await trials.HandInAsync(found.Draft, found.Site, context.Request.Body, name, context.RequestAborted)));
    }

    /// <summary>Reads a description; what is wrong with it is told field by field, each by its place.</summary>
    private static ProblemHttpResult? Parse(FeedTrials trials, string text, out FeedDescription? description)
    {
        try
        {
            description = trials.Parse(text);
            return null;
        }
        catch (FeedDescriptionException wrong)
        {
            description = null;
            return ApiProblems.Fields(wrong.Problems.GroupBy(problem => "description" + problem.Place)
                .ToDictionary(place => place.Key, place => place.Select(problem => $"{problem.What} {problem.Mend}").ToArray()));
        }
    }

    private static ProblemHttpResult Gone(Guid id) => ApiProblems.NotFound("trial (they are kept for a day)", id);

    private static ProblemHttpResult TooOften(HttpContext context, TrialTooOftenException often) => ApiProblems.TooOften(
        context,
        FormattableString.Invariant($"Feeds are asked for a look {TrialPace.Most} times a minute at most. Try again in {Math.Ceiling(often.Wait.TotalSeconds)} s; a changed description can be tried at any time on the answer that is there."),
        often.Wait);
}
