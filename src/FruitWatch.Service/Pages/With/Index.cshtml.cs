using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.With;

/// <summary>
/// What a farm hand's personal link leads to. Looking at it does nothing, because programs look at links before people do (ASVS 5.0,
/// 3.5.3); the button puts the link's secret into a cookie and leads to today's list. Whether a link is unknown, taken back or expired
/// is not told to whoever tries.
/// </summary>
[AllowAnonymous]
[EnableRateLimiting(RateLimits.Guesses)]
internal sealed class IndexModel(StoreFactory stores, ServiceOptions service, IClock clock) : PageModel
{
    public string? Secret { get; private set; }

    /// <summary>Whose link it is; null where it opens nothing.</summary>
    public OpenLink? Link { get; private set; }

    /// <summary>Somebody has just left.</summary>
    public bool Left { get; private set; }

    public async Task<IActionResult> OnGetAsync(bool left, CancellationToken stop)
    {
        Keep();
        Secret = SecretAddresses.Of(HttpContext);
        Left = left && Secret is null;
        if (Left)
            return Page();
        Link = await FindAsync(stop);
        if (Link is null)
            Response.StatusCode = StatusCodes.Status410Gone;
        return Page();
    }

    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        Keep();
        Secret = SecretAddresses.Of(HttpContext);
        Link = await FindAsync(stop);
        if (Link is null)
        {
            Response.StatusCode = StatusCodes.Status410Gone;
            return Page();
        }

        Response.Cookies.Append(LinkScheme.CookieOf(service), Secret!, Cookie(Link.ExpiresAt.ToDateTimeOffset()));
        return LocalRedirect("/");
    }

    public IActionResult OnPostLeave()
    {
        Keep();
        Response.Cookies.Delete(LinkScheme.CookieOf(service), Cookie(null));
        return LocalRedirect("/with?left=true");
    }

    private CookieOptions Cookie(DateTimeOffset? until) => new()
    {
        HttpOnly = true,
        Secure = service.BehindTls || Request.IsHttps,
        // Lax, so that a link in a message opens the list of somebody who came in before.
        SameSite = SameSiteMode.Lax,
        Path = "/",
        Expires = until,
        IsEssential = true,
    };

    private void Keep()
    {
        Response.Headers.CacheControl = "no-store";
        Response.Headers["Referrer-Policy"] = "no-referrer";
        Response.Headers["X-Robots-Tag"] = "noindex";
    }

    private async Task<OpenLink?> FindAsync(CancellationToken stop)
    {
        if (Secret is not { Length: > 0 and <= 200 })
            return null;
        var hash = Secrets.Hash(Secret);
        var now = clock.GetCurrentInstant();
        await using var store = stores.CreateDbContext();
        var found = await (
            from link in store.PersonalLinks
            join person in store.People on link.PersonId equals person.Id
            join cooperative in store.Cooperatives on person.CooperativeId equals cooperative.Id
            where link.Hash == hash && link.RevokedAt == null && link.ExpiresAt > now && person.Active
            select new { person.Name, person.ZoneId, Cooperative = cooperative.Name, link.ExpiresAt }).FirstOrDefaultAsync(stop);
        if (found is null)
            return null;
        var zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(found.ZoneId ?? "") ?? DateTimeZone.Utc;
        return new OpenLink(found.Name, found.Cooperative, found.ExpiresAt, found.ExpiresAt.InZone(zone).Date);
    }
}

/// <summary>A link that opens, as its page tells of it.</summary>
internal sealed record OpenLink(string PersonName, string CooperativeName, Instant ExpiresAt, LocalDate LastDay);
