using FruitWatch.Service.Operating;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;

namespace FruitWatch.Service.Access;

/// <summary>Who comes in which way, and what is asked of them.</summary>
internal static class AccessSetup
{
    /// <summary>Chooses the way by what a request is: programs come with tokens, people with sessions or personal links.</summary>
    private const string Door = "door";

    public static void AddAccess(this IServiceCollection services)
    {
        services.AddScoped<Visitor>();
        services.AddScoped<BedAccess>();
        services.AddSingleton<IAuthorizationHandler, RightHandler>();
        var schemes = services.AddAuthentication(Door)
            .AddPolicyScheme(Door, null, door => door.ForwardDefaultSelector = context =>
                context.RequestServices.GetService<IStandIn>() is not null ? StandInScheme.Name
                : ApiProblems.Concerns(context.Request) ? TokenScheme.Name
                : context.Request.Cookies.ContainsKey(LinkCookie(context.RequestServices)) && !context.Request.Cookies.ContainsKey(SessionCookie(context.RequestServices)) ? LinkScheme.Name
                : IdentityConstants.ApplicationScheme)
            .AddScheme<AuthenticationSchemeOptions, TokenScheme>(TokenScheme.Name, null)
            .AddScheme<AuthenticationSchemeOptions, LinkScheme>(LinkScheme.Name, null)
            .AddScheme<AuthenticationSchemeOptions, StandInScheme>(StandInScheme.Name, null);
        schemes.AddIdentityCookies();
        services.AddIdentityCore<Account>().AddSignInManager().AddEntityFrameworkStores<FruitWatchStore>().AddDefaultTokenProviders();
        services.AddOptions<Microsoft.AspNetCore.Authentication.Cookies.CookieAuthenticationOptions>(IdentityConstants.ApplicationScheme)
            .Configure<ServiceOptions>((session, service) =>
            {
                session.Cookie.Name = SessionName(service);
                session.Cookie.HttpOnly = true;
                session.Cookie.SameSite = SameSiteMode.Lax;
                session.Cookie.SecurePolicy = service.BehindTls ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
                session.LoginPath = "/sign-in";
                session.ReturnUrlParameter = "back";
                session.Events.OnRedirectToAccessDenied = denied =>
                {
                    denied.Response.StatusCode = StatusCodes.Status403Forbidden;
                    return Task.CompletedTask;
                };
            });
        // What names no rule is for nobody; a test sees to it that everything names one. What
        // routing itself answers is for everybody: nothing there, not by this method, not in this form.
        services.AddAuthorizationBuilder().SetFallbackPolicy(new AuthorizationPolicyBuilder()
            .RequireAssertion(asked => asked.Resource is HttpContext context && context.GetEndpoint() is not RouteEndpoint).Build());
    }

    public static void UseAccess(this IApplicationBuilder app)
    {
        app.UseAuthentication();
        app.UseMiddleware<VisitorFinding>();
        // Between the two: who asks is known by now, and who is not let in is counted as well.
        app.UseRateLimiter();
        app.UseAuthorization();
    }

    /// <summary>The right that an operation, or all of a group, asks for; several add up.</summary>
    public static T Needs<T>(this T operations, Right right)
        where T : IEndpointConventionBuilder => operations.WithMetadata(new RightAttribute(right));

    /// <summary>For everybody, known or not.</summary>
    public static T ForEverybody<T>(this T operations)
        where T : IEndpointConventionBuilder => operations.AllowAnonymous();

    private static string LinkCookie(IServiceProvider services) => LinkScheme.CookieOf(services.GetRequiredService<ServiceOptions>());

    private static string SessionCookie(IServiceProvider services) => SessionName(services.GetRequiredService<ServiceOptions>());

    // The prefix makes a browser hold the cookie to this host and to TLS; without TLS, on the own machine, it would be refused.
    private static string SessionName(ServiceOptions service) => service.BehindTls ? "__Host-session" : "session";
}
