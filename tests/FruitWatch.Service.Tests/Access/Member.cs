using System.Globalization;
using System.Net.Http.Headers;
using System.Security.Claims;
using FruitWatch.Service.Access;
using FruitWatch.Service.SignIn;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using NodaTime;

namespace FruitWatch.Service.Tests.Access;

/// <summary>A member who has signed in with a browser and holds a token for programs: as real as those that the service gives out.</summary>
/// <param name="PersonId">Key of the person.</param>
/// <param name="AccountId">Key of what they sign in with.</param>
/// <param name="Session">The session's cookie, as a header field has it.</param>
/// <param name="Token">A token with every scope.</param>
internal sealed record Member(long PersonId, long AccountId, string Session, string Token)
{
    public static async Task<Member> JoinAsync(
        IServiceProvider services, long cooperativeId, Role role, string name, IEnumerable<long>? sites = null, bool operating = false)
    {
        await using var scope = services.CreateAsyncScope();
        var clock = services.GetRequiredService<IClock>();
        var email = $"{name.ToLowerInvariant().Replace(' ', '.')}@example.org";
        var account = new Account { UserName = email, Email = email, EmailConfirmed = true, Operator = operating, MadeAt = clock.GetCurrentInstant() };
        var made = await scope.ServiceProvider.GetRequiredService<UserManager<Account>>().CreateAsync(account);
        Assert.True(made.Succeeded, string.Join("; ", made.Errors.Select(error => error.Description)));

        await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
        var person = new Person { CooperativeId = cooperativeId, AccountId = account.Id, Role = role, Name = name, Email = email };
        person.Sites.AddRange((sites ?? []).Select(site => new PersonSite { SiteId = site }));
        store.People.Add(person);
        await store.SaveChangesAsync();
        return new Member(person.Id, account.Id, await SignInAsync(scope.ServiceProvider, account, person.Id), await TokenAsync(store, person, clock));
    }

    /// <summary>Gives a client this member's token, and their session where the client keeps no cookies of its own.</summary>
    public HttpClient Dress(HttpClient client, bool cookies = true)
    {
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Token);
        if (cookies)
            client.DefaultRequestHeaders.Add("Cookie", Session);
        return client;
    }

    private static async Task<string> SignInAsync(IServiceProvider services, Account account, long personId)
    {
        var session = services.GetRequiredService<IOptionsMonitor<CookieAuthenticationOptions>>().Get(IdentityConstants.ApplicationScheme);
        var principal = await services.GetRequiredService<IUserClaimsPrincipalFactory<Account>>().CreateAsync(account);
        ((ClaimsIdentity)principal.Identity!).AddClaim(new Claim(VisitorFinding.PersonClaim, personId.ToString(CultureInfo.InvariantCulture)));
        var real = DateTimeOffset.Parse("2026-01-01T00:00:00Z", CultureInfo.InvariantCulture);
        var properties = Sessions.Properties(services.GetRequiredService<IClock>().GetCurrentInstant() + Duration.FromDays(3650));
        (properties.IssuedUtc, properties.ExpiresUtc) = (real, real.AddYears(50));
        var ticket = new AuthenticationTicket(principal, properties, IdentityConstants.ApplicationScheme);
        return $"{session.Cookie.Name}={session.TicketDataFormat.Protect(ticket)}";
    }

    private static async Task<string> TokenAsync(FruitWatchStore store, Person person, IClock clock)
    {
        var secret = Secrets.Draw();
        var now = clock.GetCurrentInstant();
        var token = new ApiToken
        {
            CooperativeId = person.CooperativeId,
            PersonId = person.Id,
            Name = "Test",
            Hash = Secrets.Hash(secret),
            Scopes = string.Join(' ', Rights.OfScope.Keys),
            MadeAt = now,
            ExpiresAt = now + Duration.FromDays(365),
        };
        store.ApiTokens.Add(token);
        await store.SaveChangesAsync();
        return TokenScheme.Text(token, secret);
    }
}
