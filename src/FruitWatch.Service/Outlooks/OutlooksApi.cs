using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FruitWatch.Service.Outlooks;

/// <summary>What a bed's many futures bring, in the web API.</summary>
internal static class OutlooksApi
{
    public static void MapOutlooks(this IEndpointRouteBuilder api) =>
        api.MapGroup("/beds").WithTags("Beds").Needs(Right.ReadBeds).MapGet("{id:long}/outlook", OutlookAsync).WithName("GetBedOutlook")
            .WithSummary(
                "What many weather futures bring to a bed: likelihoods of pins, harvest and dryness by day. They say nothing of what is safe to eat.")
            .Refusing(404);

    private static async Task<Results<Ok<BedOutlookBody>, ProblemHttpResult>> OutlookAsync(
        [Description("Key of the bed.")] long id, FruitWatchStore store, SiteBooks books, HttpContext context) =>
        await BedAccountApi.OpenAsync(id, store, books, context.RequestAborted) is { } open
            ? TypedResults.Ok(BedOutlookBody.Of(open.Site, open.Bed))
            : ApiProblems.NotFound("watched bed", id);
}
