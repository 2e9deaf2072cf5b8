using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Demo;

/// <summary>As whom a visitor looks at the demo: its coordinator, or whoever was chosen in the bar above the pages.</summary>
internal sealed class DemoVisitor(StoreFactory stores) : IStandIn
{
    private const string CookieName = "as";

    public async Task<long?> PersonAsync(HttpContext context)
    {
        await using var store = stores.CreateDbContext();
        var chosen = long.TryParse(context.Request.Cookies[CookieName], NumberStyles.None, CultureInfo.InvariantCulture, out var key) ? key : 0;
        return await store.People.Where(person => person.Id == chosen || person.Role == Role.Coordinator)
            .OrderBy(person => person.Id == chosen ? 0 : 1).ThenBy(person => person.Id)
            .Select(person => (long?)person.Id).FirstOrDefaultAsync(context.RequestAborted);
    }

    public static void Map(IEndpointRouteBuilder app) => app.MapPost("/demo/as", async (HttpContext context) =>
    {
        var form = await FormPosts.ReadAsync(context);
        if (form is null || !long.TryParse(form["person"], NumberStyles.None, CultureInfo.InvariantCulture, out var person))
            return Results.BadRequest();
        context.Response.Cookies.Append(
            CookieName,
            person.ToString(CultureInfo.InvariantCulture),
            new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Secure = context.Request.IsHttps, IsEssential = true });
        return Results.LocalRedirect("/");
    }).ForEverybody().ExcludeFromDescription();
}
