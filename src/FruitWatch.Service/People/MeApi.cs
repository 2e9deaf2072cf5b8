using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FruitWatch.Service.People;

/// <summary>The caller in the web API: every token may ask whom it acts for; one with the scope <c>settings</c> changes how they read.</summary>
internal static class MeApi
{
    public static void MapMe(this IEndpointRouteBuilder api)
    {
        var me = api.MapGroup("/me").WithTags("People");
        me.MapGet("", GetAsync).Needs(Right.ReadBeds).WithName("GetMe").WithSummary("Whom the token acts for.").Giving<MeBody>().GivingVersion();
        me.MapPut("", ChangeAsync).Needs(Right.OwnSettings).WithName("ChangeMe")
            .WithSummary("Changes own settings.").NeedingVersion().Refusing(409);
    }

    private static async Task<IResult> GetAsync(MemberBook members, Visitor visitor, HttpContext context)
    {
        var row = (await members.FindAsync(visitor.Person!.Id, context.RequestAborted))!;
        return ETags.Ok(context, row, MeBody.Of(row, visitor.Cooperative!));
    }

    private static async Task<Results<Ok<MeBody>, ProblemHttpResult>> ChangeAsync(
        Body<PersonSettings> body, FruitWatchStore store, MemberBook members, Visitor visitor, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var row = (await members.FindAsync(visitor.Person!.Id, context.RequestAborted))!;
        if (ETags.Refuses(context.Request, row) is { } outdated)
            return outdated;
        body.Value.Put(row);
        await store.SaveChangesAsync(context.RequestAborted);
        context.Response.Headers.ETag = ETags.Of(row);
        return TypedResults.Ok(MeBody.Of(row, visitor.Cooperative!));
    }
}
