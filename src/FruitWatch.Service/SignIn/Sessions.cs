using System.Globalization;
using System.Security.Claims;
using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>Sessions: begun, continued as another member, looked at in every request, ended.</summary>
internal sealed class Sessions(SignInManager<Account> manager, StoreFactory stores, Devices devices, IClock clock, IHttpContextAccessor http)
{
    /// <summary>A session that is not used ends after that long (ASVS 5.0 7.3.1).</summary>
    public static readonly TimeSpan Idle = TimeSpan.FromHours(12);

    /// <summary>Every session ends after that long (ASVS 5.0 7.3.2).</summary>
    public static readonly Duration Longest = Duration.FromDays(30);

    private const string Ends = "ends";

    private HttpContext Context => http.HttpContext!;

    /// <summary>Signs somebody in who has shown all that was asked for.</summary>
    /// <param name="account">Who.</param>
    /// <param name="how">By what, for the audit: <c>password</c>, <c>second-factor</c>, <c>recovery-code</c>, <c>passkey</c>, <c>invitation</c>, <c>setup</c>.</param>
    /// <param name="personId">As which member; null for the first.</param>
    /// <param name="stop">Stops it.</param>
    /// <returns>How many memberships there are to choose from.</returns>
    public async Task<int> BeginAsync(Account account, string how, long? personId, CancellationToken stop)
    {
        var members = await MembershipsAsync(account.Id, stop);
        var person = members.FirstOrDefault(member => member.Id == personId) ?? (members.Count > 0 ? members[0] : null);
        await IssueAsync(account, person?.Id, clock.GetCurrentInstant() + Longest);
        await Context.SignOutAsync(IdentityConstants.TwoFactorUserIdScheme);
        devices.Remember(account.Id);
        await using var store = stores.CreateDbContext();
        AuditTrail.Note(
            store, clock.GetCurrentInstant(), "sign-in.done", Key(account.Id), new { how }, "session", person?.CooperativeId, person?.Id);
        await store.SaveChangesAsync(stop);
        return members.Count;
    }

    /// <summary>The session in hand goes on: as another member, or with the new stamp after a password was changed. Its end stays.</summary>
    public async Task ContinueAsync(Account account, long? personId)
    {
        var held = await Context.AuthenticateAsync(IdentityConstants.ApplicationScheme);
        var ends = held.Properties is { } kept && EndOf(kept) is { } end ? end : clock.GetCurrentInstant();
        await IssueAsync(account, personId, ends);
    }

    /// <summary>What somebody is a member of, in the order in which they became it.</summary>
    public async Task<IReadOnlyList<Person>> MembershipsAsync(long accountId, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        return await store.People.AsNoTracking().Where(row => row.AccountId == accountId && row.Active).OrderBy(row => row.Id).ToListAsync(stop);
    }

    /// <summary>Between password and second factor: who it is that has shown the first one.</summary>
    public Task AwaitSecondAsync(Account account) => Context.SignInAsync(
        IdentityConstants.TwoFactorUserIdScheme,
        new ClaimsPrincipal(new ClaimsIdentity(
            [new Claim(ClaimTypes.NameIdentifier, Key(account.Id)), new Claim(StampClaim, account.SecurityStamp ?? "")],
            IdentityConstants.TwoFactorUserIdScheme)));

    /// <summary>Who has shown a password and not yet the second factor; null for nobody, or where the password was changed since.</summary>
    public async Task<Account?> AwaitedAsync()
    {
        var held = await Context.AuthenticateAsync(IdentityConstants.TwoFactorUserIdScheme);
        return held.Principal?.FindFirstValue(ClaimTypes.NameIdentifier) is { } key && await manager.UserManager.FindByIdAsync(key) is { } account
            && account.SecurityStamp == held.Principal.FindFirstValue(StampClaim)
            ? account
            : null;
    }

    public static void MapSignOut(IEndpointRouteBuilder app) => app.MapPost(SignInAddresses.SignOut, async (HttpContext context) =>
    {
        if (await FormPosts.ReadAsync(context) is null)
            return Results.BadRequest();
        await context.SignOutAsync(IdentityConstants.ApplicationScheme);
        var service = context.RequestServices.GetRequiredService<ServiceOptions>();
        context.Response.Cookies.Delete(LinkScheme.CookieOf(service), new CookieOptions { Path = "/", Secure = service.BehindTls });
        return Results.LocalRedirect(SignInAddresses.SignIn + "?done=out");
    }).ForEverybody().ExcludeFromDescription();

    /// <summary>
    /// Looked at in every request and not every few minutes, so that "sign out everywhere" and a new password hold at once (ASVS 5.0
    /// 7.4.1 to 7.4.3): the session's last day, and the account's stamp.
    /// </summary>
    public static async Task ValidateAsync(CookieValidatePrincipalContext session)
    {
        var services = session.HttpContext.RequestServices;
        var now = services.GetRequiredService<IClock>().GetCurrentInstant();
        if (EndOf(session.Properties) is { } ends && now < ends
            && long.TryParse(session.Principal?.FindFirstValue(ClaimTypes.NameIdentifier), NumberStyles.None, CultureInfo.InvariantCulture, out var account))
        {
            await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
            var stamp = await store.Accounts.Where(row => row.Id == account).Select(row => row.SecurityStamp).SingleOrDefaultAsync(session.HttpContext.RequestAborted);
            var claim = services.GetRequiredService<IOptions<IdentityOptions>>().Value.ClaimsIdentity.SecurityStampClaimType;
            if (stamp is not null && stamp == session.Principal.FindFirstValue(claim))
                return;
        }

        session.RejectPrincipal();
        await session.HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
    }

    /// <summary>What a session is kept with, so that it ends for good.</summary>
    public static AuthenticationProperties Properties(Instant ends) => new(new Dictionary<string, string?>
    {
        [Ends] = ends.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture),
    })
    { IsPersistent = true };

    private string StampClaim => manager.Options.ClaimsIdentity.SecurityStampClaimType;

    private async Task IssueAsync(Account account, long? personId, Instant ends)
    {
        var principal = await manager.CreateUserPrincipalAsync(account);
        if (personId is { } key)
            ((ClaimsIdentity)principal.Identity!).AddClaim(new Claim(VisitorFinding.PersonClaim, Key(key)));
        await Context.SignInAsync(IdentityConstants.ApplicationScheme, principal, Properties(ends));
    }

    private static Instant? EndOf(AuthenticationProperties properties) =>
        properties.Items.TryGetValue(Ends, out var text) && long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds)
            ? Instant.FromUnixTimeSeconds(seconds)
            : null;

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
