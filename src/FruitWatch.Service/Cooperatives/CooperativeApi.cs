using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Cooperatives;

/// <summary>The visitor's cooperative in the web API.</summary>
internal static class CooperativeApi
{
    public const int LongestName = 120;

    public static void MapCooperative(this IEndpointRouteBuilder api)
    {
        var own = api.MapGroup("/cooperative").WithTags("Cooperative");
        own.MapGet("", GetAsync).Needs(Right.ReadBeds).WithName("GetCooperative").WithSummary("The cooperative that the token is for.")
            .Giving<CooperativeBody>().GivingVersion();
        own.MapPut("", ChangeAsync).Needs(Right.ManageCooperative).WithName("ChangeCooperative")
            .WithSummary("Changes the cooperative.").NeedingVersion().Refusing(409);
        own.MapDelete("", DeleteAsync).Needs(Right.ManageCooperative).WithName("DeleteCooperative")
            .WithSummary("Deletes the cooperative with everything in it, the token too. It cannot be taken back.").NeedingVersion().Refusing(400, 409);
        own.MapGet("/export", ExportAsync).Needs(Right.ManageCooperative).WithName("ExportCooperative")
            .WithSummary("Everything of the cooperative in one file; it is noted in the audit.")
            .Giving<System.Text.Json.JsonElement>("application/json", "application/zip").Refusing(400).WithMetadata(new StreamedMetadata());
    }

    private static async Task<IResult> GetAsync(FruitWatchStore store, HttpContext context)
    {
        var row = await store.Cooperatives.AsNoTracking().SingleAsync(context.RequestAborted);
        return ETags.Ok(context, row, CooperativeBody.Of(row));
    }

    private static async Task<Results<Ok<CooperativeBody>, ProblemHttpResult>> ChangeAsync(Body<CooperativeChange> body, FruitWatchStore store, HttpContext context)
    {
        var row = await store.Cooperatives.SingleAsync(context.RequestAborted);
        if (body.Refusal is { } refusal)
            return refusal;
        if (ETags.Refuses(context.Request, row) is { } version)
            return version;
        (row.Name, row.GrowersReadAll) = (body.Value.Name, body.Value.GrowersReadAll ?? row.GrowersReadAll);
        await store.SaveChangesAsync(context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(CooperativeBody.Of(row));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DeleteAsync(
        [Description("The name of the cooperative, exactly, to confirm that it is meant.")] string? name,
        FruitWatchStore store,
        CooperativeRemoval removal,
        Visitor visitor,
        HttpContext context)
    {
        var row = await store.Cooperatives.AsNoTracking().SingleAsync(context.RequestAborted);
        if (ETags.Refuses(context.Request, row) is { } version)
            return version;
        if (name?.Trim() != row.Name.Trim())
            return ApiProblems.Field("name", Words.For("en").DeleteWrongName);
        // Begun is done: a program that hangs up does not leave half of it.
        await removal.RemoveAsync(row.Id, visitor.Via!, CancellationToken.None);
        return TypedResults.NoContent();
    }

    private static async Task<IResult> ExportAsync(
        [Description("json, to move elsewhere, or csv: a zip of one table a subject. json where left out.")] string? format,
        CooperativeExport export,
        Visitor visitor,
        HttpContext context)
    {
        if (format is not (null or "json" or "csv"))
            return ApiProblems.Field("format", "Expected json or csv.");
        return (await export.MakeAsync(visitor, format ?? "json", context.RequestAborted)).ToResult(context);
    }
}

/// <summary>A cooperative as the API gives it.</summary>
[Description("Growers who share sites, people and feeds.")]
internal sealed record CooperativeBody(
    [property: Description("Key.")] long Id,
    [property: Description("What its members call it.")] string Name,
    [property: Description("Growers may read the beds of the others; what they may change is their own in any case.")] bool GrowersReadAll)
{
    public static CooperativeBody Of(Cooperative row) => new(row.Id, row.Name, row.GrowersReadAll);
}

/// <summary>A cooperative as it is sent.</summary>
[Description("A cooperative as it is to be.")]
internal sealed record CooperativeChange(
    [property: Description("What its members call it, up to 120 characters.")] string Name,
    [property: Description("Growers may read the beds of the others; as it is where left out.")] bool? GrowersReadAll) : IReadBody<CooperativeChange>
{
    public static CooperativeChange Read(JsonFields fields) =>
        new(fields.Line("name", CooperativeApi.LongestName, required: true) ?? "", fields.YesNo("growersReadAll"));
}
