using System.Globalization;
using System.Net;
using AngleSharp.Dom;
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
    public const string Password = "kettle moss lantern forty";

    public static Task<TestService> OpenAsync(Action<IServiceCollection>? adjust = null, int perMinute = 1_000_000) => TestService.StartAsync(services =>
    {
        services.AddSingleton(new SignInLimits { PerMinute = perMinute });
        adjust?.Invoke(services);
    });

    public static FakeClock Clock(this TestService service) => (FakeClock)service.Services.GetRequiredService<IClock>();

    /// <summary>A member who signs in with a password.</summary>
    public static async Task<(Account Account, Person Person)> MemberAsync(
        this TestService service, Role role = Role.Grower, string email = Email, long? cooperative = null, bool confirmed = true)
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
            EmailConfirmedAt = confirmed ? service.Clock().GetCurrentInstant() : null,
        };
        store.People.Add(person);
        await store.SaveChangesAsync();
        return (account, person);
    }

    /// <summary>The one mail that went to an address since the last look, with the address of its button.</summary>
    public static async Task<(OutgoingMail Mail, string Link)> MailAsync(this TestService service, string to, string subject)
    {
        for (var i = 0; i < 200; i++)
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
}

/// <summary>Somebody at a browser of their own, with cookies; sees where they are sent instead of going there.</summary>
internal sealed class Visit : IDisposable
{
    private readonly HttpClientHandler handler = new() { AllowAutoRedirect = false, CookieContainer = new CookieContainer() };

    public Visit(TestService service)
    {
        Browser = new HttpClient(handler) { BaseAddress = service.Address };
        Browser.DefaultRequestHeaders.Add("Accept-Language", "en");
    }

    public HttpClient Browser { get; }

    public CookieCollection Cookies => handler.CookieContainer.GetAllCookies();

    public async Task<HttpResponseMessage> SubmitAsync(string path, string form, params (string, string)[] filled)
    {
        var page = await Browser.OpenAsync(path);
        var found = page.QuerySelector(form) ?? throw new InvalidOperationException($"{path} has no {form}: {page.Body!.Read()}");
        return await Browser.SubmitAsync(found, filled);
    }

    public Task<HttpResponseMessage> SignInAsync(string email, string password, string path = "/sign-in") =>
        SubmitAsync(path, "form.card", ("email", email), ("password", password));

    /// <summary>Whether a page for members opens.</summary>
    public async Task<bool> IsInAsync()
    {
        using var answer = await Browser.GetAsync("/notices");
        return answer.StatusCode == HttpStatusCode.OK;
    }

    public async Task<IDocument> SignedInAsync(string email = Doors.Email, string password = Doors.Password)
    {
        using var answer = await SignInAsync(email, password);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return await HtmlPage.ReadAsync(answer);
    }

    public void Dispose()
    {
        Browser.Dispose();
        handler.Dispose();
    }

    public static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
