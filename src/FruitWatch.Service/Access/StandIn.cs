using System.Globalization;
using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;

namespace FruitWatch.Service.Access;

/// <summary>
/// Who a visitor is taken for without signing in. Registered by the demo only, which listens to this machine and knows invented
/// people only; the service itself has no such thing.
/// </summary>
internal interface IStandIn
{
    /// <summary>Key of the person; null for nobody.</summary>
    Task<long?> PersonAsync(HttpContext context);
}

/// <inheritdoc cref="IStandIn"/>
internal sealed class StandInScheme(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string Name = "stand-in";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (await Context.RequestServices.GetRequiredService<IStandIn>().PersonAsync(Context) is not { } person)
            return AuthenticateResult.NoResult();
        var identity = new ClaimsIdentity([new Claim(VisitorFinding.PersonClaim, person.ToString(CultureInfo.InvariantCulture)), new Claim(VisitorFinding.ViaClaim, "demo")], Name);
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Name));
    }
}
