using System.Globalization;
using System.Security.Claims;
using System.Text.Encodings.Web;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using NodaTime;

namespace FruitWatch.Service.Access;

/// <summary>Farm hands who opened their personal link: its secret stands in a cookie of its own, and is looked up at every request.</summary>
internal sealed class LinkScheme(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logger,
    UrlEncoder encoder,
    StoreFactory stores,
    ServiceOptions service,
    IClock clock)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string Name = "link";
    private static readonly Duration s_noted = Duration.FromMinutes(5);

    /// <summary>Name of the cookie. The prefix holds it to this host and to TLS; without TLS, on the own machine, it would be refused.</summary>
    public static string CookieOf(ServiceOptions service) => service.BehindTls ? "__Host-link" : "link";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (!Request.Cookies.TryGetValue(CookieOf(service), out var secret) || string.IsNullOrEmpty(secret))
            return AuthenticateResult.NoResult();
        var hash = Secrets.Hash(secret);
        var now = clock.GetCurrentInstant();
        await using var store = stores.CreateDbContext();
        var link = await store.PersonalLinks.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Hash == hash && row.RevokedAt == null && row.ExpiresAt > now, Context.RequestAborted);
        if (link is null)
            return AuthenticateResult.Fail("unknown, taken back or expired");
        if (link.LastUsedAt is null || now - link.LastUsedAt > s_noted)
            await store.PersonalLinks.Where(row => row.Id == link.Id).ExecuteUpdateAsync(set => set.SetProperty(row => row.LastUsedAt, now), Context.RequestAborted);
        var identity = new ClaimsIdentity(
            [
                new Claim(VisitorFinding.PersonClaim, link.PersonId.ToString(CultureInfo.InvariantCulture)),
                new Claim(VisitorFinding.ViaClaim, string.Create(CultureInfo.InvariantCulture, $"link:{link.Id}")),
            ],
            Name);
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Name));
    }

    /// <summary>A link that no longer opens is told so: its holder has no password to sign in with.</summary>
    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        Response.Redirect("/with");
        return Task.CompletedTask;
    }
}
