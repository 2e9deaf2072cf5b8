using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>A service whose rate by place is out of the way, so that a test sees the rest; and those who sign in there.</summary>
internal static class Doors
{
    public const string Email = "ines.alder@example.org";
    public const string Guest = "guest@example.org";
    public const string Password = "kettle moss lantern forty";

    public static Task<TestService> OpenAsync(Action<IServiceCollection>? adjust = null, int perMinute = 1_000_000) => TestService.StartAsync(services =>
    {
        services.AddSingleton(new SignInLimits { PerMinute = perMinute });
        adjust?.Invoke(services);
    });

    public static FakeClock Clock(this TestService service) => (FakeClock)service.Services.GetRequiredService<IClock>();

    /// <summary>A member who signs in with a password.</summary>
    public static async Task<(Account Account, Person Person)> MemberAsync(
        this TestService service, Role role = Role.Grower, string email = Email, long? cooperative = null, bool confirmed = true, string language = "en")
    {
        await using var scope = service.Services.CreateAsyncScope();
        await using var store = service.Store();
        var account = await store.Accounts.SingleOrDefaultAsync(row => row.Email == email)
            ?? scope.ServiceProvider.GetRequiredService<Newcomers>().Make(email, Password, confirmed, service.Clock().GetCurrentInstant());
        if (account.Id == 0)
            store.Accounts.Add(account);
        await store.SaveChangesAsync();
        var person = new Person
        {
            CooperativeId = cooperative ?? service.Invented.Cooperative,
            AccountId = account.Id,
            Role = role,
            Name = "Ines Alder",
            Email = email,
            Language = language,
            EmailConfirmedAt = confirmed ? service.Clock().GetCurrentInstant() : null,
        };
        store.People.Add(person);
        await store.SaveChangesAsync();
        return (account, person);
    }

    /// <summary>The one mail that went to an address since the last look, with the address of its button.</summary>
    public static async Task<(OutgoingMail Mail, string Link)> MailAsync(this TestService service, string to, string subject)
    {
        for (var i = 0; i < 6000; i++)
        {
            await using var store = service.Store();
            var mails = await store.Outbox.Where(row => row.ToAddress == to && row.Subject == subject).OrderBy(row => row.Id).ToListAsync();
            if (mails.Count > 0)
            {
                var mail = mails[^1];
                var start = service.Services.GetRequiredService<ServiceOptions>().BaseUrl.AbsoluteUri.TrimEnd('/');
                var link = mail.TextBody.Split('\n').First(line => line.StartsWith(start, StringComparison.Ordinal));
                return (mail, link[start.Length..]);
            }

            await Task.Delay(50);
        }

        throw new InvalidOperationException($"No mail \"{subject}\" went to {to}.");
    }

    public static async Task<IReadOnlyList<string>> AuditAsync(this TestService service)
    {
        await using var store = service.Store();
        return await store.Audit.OrderBy(row => row.Id).Select(row => row.Action).ToListAsync();
    }

    /// <summary>What an app with this secret shows now.</summary>
    public static string Code(this TestService service, string secret) =>
        OneTimeCodes.Code(OneTimeCodes.Read(secret), service.Clock().GetCurrentInstant().ToUnixTimeSeconds() / 30);

    /// <summary>An invitation that was sent just now.</summary>
    public static async Task<(string Path, long Person)> InviteAsync(this TestService service, string email = Guest, long? cooperative = null)
    {
        var secret = Secrets.Draw();
        await using var store = service.Store();
        var now = service.Clock().GetCurrentInstant();
        var key = cooperative ?? service.Invented.Cooperative;
        var person = new Person { CooperativeId = key, Role = Role.Grower, Name = "Guest Alder", Email = email, Active = false };
        store.People.Add(person);
        await store.SaveChangesAsync();
        store.Invitations.Add(new Invitation { CooperativeId = key, PersonId = person.Id, Hash = Secrets.Hash(secret), SentAt = now, ExpiresAt = now + Duration.FromDays(7) });
        await store.SaveChangesAsync();
        return ($"/invitation/{secret}", person.Id);
    }
}
