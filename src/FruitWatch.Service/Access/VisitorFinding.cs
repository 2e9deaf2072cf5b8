using System.Globalization;
using System.Security.Claims;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Access;

/// <summary>
/// Between authentication and authorization: whom the request is for as of this moment, whatever a cookie said days ago, and the
/// reach of its store. A membership that ended, a role that changed, hold at once.
/// </summary>
internal sealed class VisitorFinding(RequestDelegate next)
{
    /// <summary>Claim that names the <see cref="Person"/>: which membership of an account a session is for, or whose token or link it is.</summary>
    public const string PersonClaim = "person";

    /// <summary>Claim that names the way: <see cref="Visitor.Via"/>. Left out by sessions.</summary>
    public const string ViaClaim = "via";

    /// <summary>Claim with the scopes of a token.</summary>
    public const string ScopesClaim = "scopes";

    public async Task InvokeAsync(HttpContext context, Visitor visitor, Reach reach, StoreFactory stores, IClock clock)
    {
        // Once a request: the page of a refusal comes through here again.
        if (context.User.Identity?.IsAuthenticated == true && visitor.Via is null)
            await FindAsync(context, visitor, reach, stores, clock);
        await next(context);
    }

    private static async Task FindAsync(HttpContext context, Visitor visitor, Reach reach, StoreFactory stores, IClock clock)
    {
        var user = context.User;
        var via = user.FindFirstValue(ViaClaim) ?? "session";
        var account = Number(user, ClaimTypes.NameIdentifier);
        var wanted = Number(user, PersonClaim);
        await using var store = stores.CreateDbContext();
        var operating = account is { } key && await store.Accounts.AnyAsync(row => row.Id == key && row.Operator, context.RequestAborted);
        var person = await store.People.AsNoTracking().Include(row => row.Sites)
            .Where(row => row.Active && (account == null ? row.Id == wanted : row.AccountId == account))
            .OrderBy(row => row.Id == wanted ? 0 : 1).ThenBy(row => row.Id)
            .FirstOrDefaultAsync(context.RequestAborted);
        if (person is null)
        {
            visitor.Is(null, null, account, via, [.. OfWay(via, operating)]);
            return;
        }

        var cooperative = await store.Cooperatives.AsNoTracking().SingleAsync(row => row.Id == person.CooperativeId, context.RequestAborted);
        IEnumerable<Right> rights = Rights.OfRole(person.Role);
        if (user.FindFirstValue(ScopesClaim) is { } scopes)
            rights = rights.Intersect(Rights.OfScopes(scopes));
        else if (via.StartsWith("link:", StringComparison.Ordinal))
            rights = rights.Intersect(Rights.OfLink);
        visitor.Is(person, cooperative, account, via, rights.Concat(OfWay(via, operating)));
        reach.Open(person, cooperative.GrowersReadAll, via, clock);
    }

    /// <summary>What whoever signed in may, whatever their role. The demo's visitors see the page and have nothing on it.</summary>
    private static IEnumerable<Right> OfWay(string via, bool operating)
    {
        if (via is "session" or "demo")
            yield return Right.OwnSignIn;
        if (operating)
            yield return Right.Operate;
    }

    private static long? Number(ClaimsPrincipal user, string claim) =>
        long.TryParse(user.FindFirstValue(claim), NumberStyles.None, CultureInfo.InvariantCulture, out var key) ? key : null;
}
