using FruitWatch.Service.Operating;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Tests.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using NodaTime;

namespace FruitWatch.Browser.Tests;

public sealed class SignInTests(ChromiumRun run)
{
    /// <summary>With an authenticator as the browser's own tests have it (W3C WebAuthn Level 3, section 11).</summary>
    [Fact]
    public async Task A_passkey_is_added_signs_its_holder_in_is_renamed_and_removed()
    {
        await using var service = await Doors.OpenAsync();
        var address = Named(service);
        await service.MemberAsync(Role.Coordinator);
        await using var window = await run.OpenAsync(address);
        var page = window.Page;
        await PlugInAsync(page);
        await SignInAsync(page);
        Assert.EndsWith("/sign-in/advice?back=%2F", page.Url, StringComparison.Ordinal);

        await page.GotoAsync("/account/security/passkeys");
        await page.Locator("#name").FillAsync("phone");
        await page.Locator("#present").FillAsync("not the password");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await page.GetByRole(AriaRole.Alert).GetByText("That is not right").WaitForAsync();
        await window.ForgiveRefusalAsync();
        await page.Locator("#present").FillAsync(Doors.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await page.GetByRole(AriaRole.Status).GetByText("The passkey is added").WaitForAsync();
        Assert.Equal("phone", await page.Locator("ul.passkeys h2").InnerTextAsync());
        await Pictures.TakeAsync(page, "passkeys with one");
        Assert.Equal("", await Axe.RunAsync(page));

        // It stands for both factors: no advice, no second step.
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await page.WaitForURLAsync("**/sign-in?done=out");
        await page.GotoAsync("/sign-in?back=%2Fnotices");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in with a passkey" }).ClickAsync();
        await page.WaitForURLAsync("**/notices");
        Assert.Contains("Ines Alder", await page.Locator(".who").InnerTextAsync(), StringComparison.Ordinal);

        await page.GotoAsync("/account/security/passkeys");
        await page.GetByText("Rename or remove").ClickAsync();
        await page.Locator("#name-0").FillAsync("key in the drawer");
        await page.GetByRole(AriaRole.Button, new() { Name = "Rename" }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "key in the drawer" }).WaitForAsync();
        await page.GetByText("Rename or remove").ClickAsync();
        await page.Locator("#present-0").FillAsync(Doors.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove" }).ClickAsync();
        await page.GetByRole(AriaRole.Status).GetByText("The passkey is removed").WaitForAsync();
        Assert.Empty(window.Complaints);

        await page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await page.WaitForURLAsync("**/sign-in?done=out");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in with a passkey" }).ClickAsync();
        await page.GetByRole(AriaRole.Alert).GetByText("did not work with the passkey").WaitForAsync();
    }

    /// <summary>Pages that only come up on the way: each without a violation, a complaint or sideways scroll, in both languages.</summary>
    [Theory]
    [InlineData("en", false, 1280)]
    [InlineData("en", true, 1280)]
    [InlineData("es", false, 320)]
    [InlineData("es", true, 320)]
    public async Task The_way_in_is_in_order_on_every_page(string language, bool dark, int width)
    {
        await using var service = await Doors.OpenAsync();
        var address = Named(service);
        await service.MemberAsync(language: language);
        await using var window = await run.OpenAsync(address, language, dark, width);
        var page = window.Page;
        var dress = $"{language} {(dark ? "dark" : "light")} {width}";

        var (invitation, _) = await service.InviteAsync();
        await page.GotoAsync(invitation);
        await LookAsync("invitation");
        await page.Locator("#password").FillAsync("password1234");
        await page.Locator("main form button").ClickAsync();
        await window.ForgiveRefusalAsync();
        await LookAsync("invitation refused");

        await page.GotoAsync("/sign-in/forgotten");
        await page.Locator("#email").FillAsync(Doors.Email);
        await page.Locator("main form button").ClickAsync();
        await LookAsync("forgotten asked");
        var (_, reset) = await service.MailAsync(Doors.Email, Words.For(language).AccountMailSubject(AccountNews.ResetAsked));
        await page.GotoAsync(reset[reset.IndexOf("/sign-in", StringComparison.Ordinal)..]);
        await LookAsync("reset");

        await SignInAsync(page);
        await page.GotoAsync("/account/security/second-factor");
        await page.Locator("#present").FillAsync(Doors.Password);
        await page.Locator("main form button").ClickAsync();
        await LookAsync("codes begun");
        var secret = (await page.Locator("code.secret").InnerTextAsync()).Replace(" ", "", StringComparison.Ordinal);
        await page.Locator("#code").FillAsync(service.Code(secret));
        await page.Locator("main form button").ClickAsync();
        await page.Locator("ul.codes").WaitForAsync();
        await LookAsync("codes on");
        await page.GotoAsync("/account/security");
        await LookAsync("security with codes");
        await page.GotoAsync("/account/security/second-factor");
        await LookAsync("codes kept");

        await page.Context.ClearCookiesAsync();
        await SignInAsync(page);
        await LookAsync("second factor");
        service.Clock().Advance(Duration.FromSeconds(30));
        await page.Locator("#code").FillAsync(service.Code(secret));
        await page.Locator("main form button").First.ClickAsync();
        await page.WaitForURLAsync(new Uri(address, "/").ToString());

        async Task LookAsync(string where)
        {
            await Pictures.TakeAsync(page, $"{where} {dress}");
            var sideways = await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
            Assert.True(sideways <= 0, $"{where}, {dress}: scrolls {sideways} px sideways");
            await page.EvaluateAsync("document.querySelectorAll('details').forEach(details => details.open = true)");
            var violations = await Axe.RunAsync(page);
            Assert.True(violations.Length == 0, $"{where}, {dress}: {violations}");
            Assert.True(window.Complaints.Count == 0, $"{where}, {dress}: {string.Join("; ", window.Complaints)}");
        }
    }

    private static async Task SignInAsync(IPage page)
    {
        await page.GotoAsync("/sign-in");
        await page.Locator("#email").FillAsync(Doors.Email);
        await page.Locator("#password").FillAsync(Doors.Password);
        await page.Locator("main form button").First.ClickAsync();
        await page.WaitForURLAsync(url => !url.EndsWith("/sign-in", StringComparison.Ordinal));
    }

    /// <summary>Passkeys belong to a name and not to a number: the service is reached by one.</summary>
    private static Uri Named(TestService service)
    {
        var address = new UriBuilder(service.Address) { Host = "localhost" }.Uri;
        service.Services.GetRequiredService<ServiceOptions>().BaseUrl = address;
        return address;
    }

    private static async Task PlugInAsync(IPage page)
    {
        var session = await page.Context.NewCDPSessionAsync(page);
        await session.SendAsync("WebAuthn.enable");
        await session.SendAsync("WebAuthn.addVirtualAuthenticator", new Dictionary<string, object>
        {
            ["options"] = new Dictionary<string, object>
            {
                ["protocol"] = "ctap2",
                ["transport"] = "internal",
                ["hasResidentKey"] = true,
                ["hasUserVerification"] = true,
                ["isUserVerified"] = true,
                ["automaticPresenceSimulation"] = true,
            },
        });
    }
}
