using System.ComponentModel;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tokens;

/// <summary>Tokens in the web API.</summary>
internal static class TokensApi
{
    public static void MapTokens(this IEndpointRouteBuilder api)
    {
        var tokens = api.MapGroup("/tokens").WithTags("Tokens").Needs(Right.OwnAccount);
        tokens.MapGet("", ListAsync).WithName("ListTokens").WithSummary("Tokens, the last made first; expired ones and those taken back too.")
            .WithDescription("Your own. With `of=everybody`, for who manages the cooperative, those of all its members.");
        tokens.MapGet("{id:long}", GetAsync).WithName("GetToken").WithSummary("A token.");
        tokens.MapPost("", AddAsync).WithName("AddToken").WithSummary("Makes a token for you. It is told in this answer only.")
            .WithDescription("A token never reaches further than the role of its person, nor than the token that asks for it.")
            .ShowingOnce("token").Refusing(409);
        tokens.MapDelete("{id:long}", RevokeAsync).WithName("RevokeToken").WithSummary("Takes a token back: from now on it opens nothing.")
            .WithDescription("Your own; who manages the cooperative may take back those of all its members. It stays in the list.");
    }

    private static async Task<Results<Ok<Listing<TokenBody>>, ProblemHttpResult>> ListAsync(
        TokenShelf shelf,
        Visitor visitor,
        IClock clock,
        HttpContext context,
        [Description("me or everybody; me where left out.")] string? of,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        if (of is not (null or "me" or "everybody"))
            errors["of"] = ["Expected me or everybody."];
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        if (of == "everybody" && !visitor.May(Right.ManageCooperative))
            return ApiProblems.NotAllowed();
        var before = paging.After ?? long.MaxValue;
        var rows = await shelf.Tokens(of == "everybody").AsNoTracking().Where(token => token.Id < before).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        var now = clock.GetCurrentInstant();
        return TypedResults.Ok(paging.Cut(rows, token => token.Id, token => TokenBody.Of(token, now), context.Request));
    }

    private static async Task<Results<Ok<TokenBody>, ProblemHttpResult>> GetAsync(
        [Description("Key of the token.")] long id, TokenShelf shelf, IClock clock, HttpContext context) =>
        await shelf.FindAsync(id, context.RequestAborted) is { } token ? TypedResults.Ok(TokenBody.Of(token, clock.GetCurrentInstant())) : ApiProblems.NotFound("token", id);

    private static async Task<Results<Created<TokenMadeBody>, ProblemHttpResult>> AddAsync(Body<TokenAsked> body, TokenShelf shelf, HttpContext context)
    {
        if (body.Refusal is { } refusal)
            return refusal;
        var asked = body.Value;
        if (asked.Scopes.Except(shelf.Offered).ToList() is { Count: > 0 } beyond)
            return ApiProblems.Field("scopes", $"Reaches further than your role, or the token that asks: {string.Join(", ", beyond)}.");
        if (await shelf.MakeAsync(asked.Name, asked.Scopes, asked.Days ?? TokenShelf.UsualDays, context.RequestAborted) is not var (token, text))
            return ApiProblems.Conflict($"You have {TokenShelf.Most} tokens that are good. Take one back first.");
        context.Response.Headers.CacheControl = "no-store";
        return TypedResults.Created(
            FormattableString.Invariant($"{ApiProblems.Root}/tokens/{token.Id}"),
            new TokenMadeBody(text, token.Id, token.Name, TokenShelf.ScopesOf(token), token.ExpiresAt));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RevokeAsync(
        [Description("Key of the token.")] long id, TokenShelf shelf, HttpContext context)
    {
        if (await shelf.FindAsync(id, context.RequestAborted) is not { } token)
            return ApiProblems.NotFound("token", id);
        await shelf.RevokeAsync(token, context.RequestAborted);
        return TypedResults.NoContent();
    }
}
