using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FruitWatch.Service.SignIn;

/// <summary>Accounts and signing in.</summary>
internal static class SignInSetup
{
    public static void AddSignIn(this IServiceCollection services)
    {
        services.TryAddSingleton(MailSoon.ByJobs);
        services.AddSingleton<SignInLimits>();
        services.AddSingleton<Pace>();
        services.AddSingleton<UnknownAccount>();
        services.AddSingleton<AccountMails>();
        services.AddSingleton<ForgottenPasswords>();
        services.AddHostedService(running => running.GetRequiredService<ForgottenPasswords>());
        services.AddScoped<Devices>();
        services.AddScoped<Sessions>();
        services.AddScoped<PasswordDoor>();
        services.AddScoped<Proofs>();
        services.AddScoped<Newcomers>();
        services.AddScoped<Landing>();
        services.AddScoped<Pages.SignIn.OwnAccount>();
        services.AddRateLimiter(limits => limits.AddPolicy<string, SignInRate>(SignInRate.Policy));
        AddAccounts(services);
        AddCookies(services);
    }

    /// <summary>Signing out is a deed, so it is posted.</summary>
    public static void MapSignIn(this IEndpointRouteBuilder app) => Sessions.MapSignOut(app);

    private static void AddAccounts(IServiceCollection services)
    {
        var accounts = new IdentityBuilder(typeof(Account), services);
        accounts.AddUserStore<AccountStore>().AddUserManager<AccountManager>();
        accounts.AddTokenProvider<OneTimeCodes>(OneTimeCodes.Provider);
        accounts.AddTokenProvider<ResetTokens>(ResetTokens.Provider);
        // The only rules are ours: length, and that it is not among the first to be tried.
        foreach (var usual in services.Where(service => service.ServiceType == typeof(IPasswordValidator<Account>)).ToList())
            services.Remove(usual);
        services.AddScoped<IPasswordValidator<Account>, PasswordRules>();
        services.Configure<IdentityOptions>(identity =>
        {
            identity.User.RequireUniqueEmail = true;
            // Addresses are names here, and people's addresses hold more than the usual letters.
            identity.User.AllowedUserNameCharacters = "";
            identity.Tokens.AuthenticatorTokenProvider = OneTimeCodes.Provider;
            identity.Tokens.PasswordResetTokenProvider = ResetTokens.Provider;
        });
        // OWASP Password Storage Cheat Sheet: PBKDF2 with HMAC-SHA512, 210,000 rounds.
        services.Configure<PasswordHasherOptions>(hashing => hashing.IterationCount = 210_000);
        services.AddOptions<IdentityPasskeyOptions>().Configure<ServiceOptions>((passkeys, service) =>
        {
            // WebAuthn wants a valid domain string and origins are serialized in ASCII (RFC 6454 section 6.2).
            passkeys.ServerDomain = service.MessageDomain;
            passkeys.UserVerificationRequirement = "required";
            passkeys.ResidentKeyRequirement = "required";
            // Held against the address that people use: behind a proxy the request itself does not know it.
            passkeys.ValidateOrigin = seen => ValueTask.FromResult(
                !seen.CrossOrigin && seen.Origin == service.Origin);
        });
    }

    private static void AddCookies(IServiceCollection services)
    {
        services.AddOptions<CookieAuthenticationOptions>(IdentityConstants.ApplicationScheme).Configure(session =>
        {
            session.ExpireTimeSpan = Sessions.Idle;
            session.SlidingExpiration = true;
            session.Events.OnValidatePrincipal = Sessions.ValidateAsync;
        });
        services.AddOptions<CookieAuthenticationOptions>(IdentityConstants.TwoFactorUserIdScheme).Configure<ServiceOptions>((second, service) =>
        {
            second.Cookie.Name = service.BehindTls ? "__Host-second" : "second";
            second.Cookie.HttpOnly = true;
            second.Cookie.SameSite = SameSiteMode.Strict;
            second.Cookie.SecurePolicy = service.BehindTls ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
            second.ExpireTimeSpan = TimeSpan.FromMinutes(10);
        });
    }
}
