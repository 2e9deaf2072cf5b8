using System.Globalization;
using System.Security.Claims;
using System.Text.Encodings.Web;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using NodaTime;

namespace FruitWatch.Service.Access;

/// <summary>
/// Programs: <c>Authorization: Bearer fw_12_…</c>, the key of the token's row and its secret. The web API knows no other way, so that
/// no page of another site can send a visitor's cookie to it.
/// </summary>
internal sealed class TokenScheme(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, StoreFactory stores, IClock clock)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string Name = "token";
    private const string Prefix = "fw_";
    private static readonly Duration s_noted = Duration.FromMinutes(5);

    /// <summary>The token as it is shown once.</summary>
    public static string Text(ApiToken token, string secret) => string.Create(CultureInfo.InvariantCulture, $"{Prefix}{token.Id}_{secret}");

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var header = Request.Headers.Authorization.ToString();
        if (header.Length == 0)
            return AuthenticateResult.NoResult();
        if (Read(header) is not var (id, secret))
            return AuthenticateResult.Fail("no token of ours");
        await using var store = stores.CreateDbContext();
        var token = await store.ApiTokens.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, Context.RequestAborted);
        var now = clock.GetCurrentInstant();
        if (token is null || !Secrets.Matches(secret, token.Hash) || token.RevokedAt is not null || token.ExpiresAt <= now)
            return AuthenticateResult.Fail("unknown, taken back or expired");
        if (token.LastUsedAt is null || now - token.LastUsedAt > s_noted)
            await store.ApiTokens.Where(row => row.Id == id).ExecuteUpdateAsync(set => set.SetProperty(row => row.LastUsedAt, now), Context.RequestAborted);
        var identity = new ClaimsIdentity(
            [
                new Claim(VisitorFinding.PersonClaim, token.PersonId.ToString(CultureInfo.InvariantCulture)),
                new Claim(VisitorFinding.ViaClaim, string.Create(CultureInfo.InvariantCulture, $"token:{token.Id}")),
                new Claim(VisitorFinding.ScopesClaim, token.Scopes),
            ],
            Name);
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Name));
    }

    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        Response.Headers.WWWAuthenticate = Request.Headers.Authorization.Count == 0 ? "Bearer" : "Bearer error=\"invalid_token\"";
        return ApiProblems.Unknown().ExecuteAsync(Context);
    }

    protected override Task HandleForbiddenAsync(AuthenticationProperties properties) => ApiProblems.NotAllowed().ExecuteAsync(Context);

    private static (long Id, string Secret)? Read(string header)
    {
        var words = header.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words is not [var scheme, var text] || !scheme.Equals("Bearer", StringComparison.OrdinalIgnoreCase) || !text.StartsWith(Prefix, StringComparison.Ordinal))
            return null;
        var parts = text[Prefix.Length..].Split('_', 2);
        return parts.Length == 2 && long.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var id) ? (id, parts[1]) : null;
    }
}
