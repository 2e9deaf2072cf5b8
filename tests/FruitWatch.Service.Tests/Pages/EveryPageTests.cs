using System.Globalization;
using System.Net;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Pages;

public sealed class EveryPageTests(OneService running) : IClassFixture<OneService>
{
    /// <summary>Every address that a page has, with the invented keys; a page that is not listed fails the first test.</summary>
    public static TheoryData<string> Addresses => new(
        "/", "/beds/{straw}", "/beds/{hazels}?log=watered", "/beds/{young}", "/beds/{later}", "/notices", "/notices?state=done", "/forecasts", "/forecasts?lead=30", "/feeds", "/feeds?done=asked", "/feeds/new", "/feeds/new?preset=frost-daily", "/feeds/new?preset=station-daily-csv", "/feeds/{feed}", "/feeds/trials/{trial}", "/mail", "/mail/{mail}", "/sites/{lane}/season",
        "/people", "/people/new", "/people/{person}", "/account", "/account/mail", "/do/{none}", "/stop/{none}", "/with?left=true", "/sites/new", "/sites/{lane}/edit", "/beds/new?site={lane}", "/beds/{straw}/edit",
        "/cooperative", "/cooperative?done=saved", "/cooperative/webhooks", "/cooperative/webhooks/{hook}", "/cooperative/export", "/cooperative/audit", "/cooperative/audit?subject=bed&since=2026-01-01", "/cooperative/delete", "/cooperative/deleted",
        "/problem/404",
        "/sign-in", "/sign-in/second-factor", "/sign-in/forgotten", "/sign-in/reset", "/sign-in/advice", "/sign-in/membership", "/invitation/{none}", "/setup/{none}",
        "/api", "/account/tokens", "/account/tokens?done=revoked", "/account/calendars", "/account/calendars?done=revoked", "/account/address", "/account/security", "/account/security?done=password", "/account/security/second-factor", "/account/security/passkeys");

    private InventedCooperative Invented => running.Service.Invented;

    [Fact]
    public void Every_page_is_among_those_tested_here()
    {
        var routes = running.Service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .Where(endpoint => endpoint.Metadata.GetMetadata<PageActionDescriptor>() is not null)
            .Select(endpoint => "/" + endpoint.RoutePattern.RawText!.Split('{')[0].TrimEnd('/').TrimStart('/')).Distinct().Where(route => route != "/Index");
        var tested = Addresses.Select(row => "/" + row.Data.Split('{', '?')[0].Trim('/').Split("/404")[0]);
        Assert.Empty(routes.Except(tested));
    }

    [Theory]
    [MemberData(nameof(Addresses))]
    public async Task A_page_says_its_language_its_title_and_keeps_strangers_out(string address)
    {
        foreach (var language in new[] { "en", "es" })
        {
            using var browser = running.Service.Client();
            browser.Speak(language);
            using var answer = await browser.GetAsync(Fill(address));
            // Links of mails that lead nowhere any longer say so on a page like any other.
            Assert.True(answer.IsSuccessStatusCode || answer.StatusCode == HttpStatusCode.Gone, $"{address}: {answer.StatusCode} {string.Join('\n', running.Service.Faults.Told)}");
            var page = await HtmlPage.ReadAsync(answer);
            Assert.Equal(language, page.DocumentElement.GetAttribute("lang"));
            Assert.EndsWith("· FruitWatch", page.Title, StringComparison.Ordinal);
            Assert.Single(page.QuerySelectorAll("h1"));
            Assert.NotNull(page.QuerySelector("main#content"));
            Assert.Equal("#content", page.QuerySelector("body > a")!.GetAttribute("href"));
            Assert.Empty(page.QuerySelectorAll("script:not([src]), style, [style], [onclick]"));
            Assert.All(page.QuerySelectorAll("link[href], img[src], iframe[src]"), e => Assert.StartsWith("/", e.GetAttribute("href") ?? e.GetAttribute("src"), StringComparison.Ordinal));
            Assert.Equal(page.QuerySelectorAll("[id]").Length, page.QuerySelectorAll("[id]").Select(e => e.Id).Distinct().Count());

            var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
            Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Equal(page.QuerySelector("script") is not null, policy.Contains("script-src", StringComparison.Ordinal));
            Assert.All(page.QuerySelectorAll("script"), e => Assert.StartsWith("/passkeys.js", e.GetAttribute("src"), StringComparison.Ordinal));
            Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        }
    }

    /// <summary>Pages that speak of pins or picking, and the species of which they do.</summary>
    [Theory]
    [InlineData("/", "wine-cap", "wood-blewit")]
    [InlineData("/beds/{straw}", "wine-cap")]
    [InlineData("/beds/{hazels}", "wood-blewit")]
    [InlineData("/notices", "wine-cap", "wood-blewit")]
    [InlineData("/notices?state=done", "wine-cap")]
    [InlineData("/forecasts", "wine-cap", "wood-blewit")]
    public async Task Wherever_pins_or_harvest_are_told_stands_the_whole_caution_with_the_lookalikes(string address, params string[] species)
    {
        foreach (var words in Words.All)
        {
            using var browser = running.Service.Client();
            browser.Speak(words.Language);
            var text = (await browser.OpenAsync(Fill(address))).Body!.Read();
            foreach (var key in species)
            {
                foreach (var sentence in words.EatingCaution(BedCatalogue.BuiltIn.Species[key]))
                    Assert.Contains(sentence, text, StringComparison.Ordinal);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Addresses))]
    public async Task A_page_that_tells_a_window_or_a_chance_of_pins_or_harvest_has_a_caution(string address)
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(Fill(address));
        var told = page.QuerySelectorAll("strong, h3").Any(e => e.TextContent.StartsWith("Expect pins", StringComparison.Ordinal) || e.TextContent.StartsWith("Expect a harvest", StringComparison.Ordinal) || e.TextContent.StartsWith("Look for a flush", StringComparison.Ordinal))
            || page.QuerySelector(".outlook table, table.scores") is not null;
        Assert.Equal(told, page.QuerySelector(".caution, .eating") is not null);
    }

    [Fact]
    public async Task Reading_changes_nothing()
    {
        var before = await StateAsync();
        using var browser = running.Service.Browser();
        foreach (var row in Addresses)
        {
            await browser.GetAsync(Fill(row.Data));
            await browser.SendAsync(new HttpRequestMessage(HttpMethod.Head, Fill(row.Data)));
        }

        foreach (var path in new[] { "/language?language=es", "/demo/step?mornings=1", "/beds/1?handler=undo&entry=1", "/beds/1?handler=log&kind=pins" })
            await browser.GetAsync(path);
        Assert.Equal(before, await StateAsync());
    }

    [Theory]
    [InlineData("/beds/999")]
    [InlineData("/beds/straw")]
    [InlineData("/sites/999/season")]
    [InlineData("/mail/999")]
    [InlineData("/mail/999/html")]
    [InlineData("/feeds/999")]
    [InlineData("/feeds/new?preset=nothing")]
    [InlineData("/feeds/trials/00000000-0000-0000-0000-000000000001")]
    [InlineData("/nothing/here")]
    public async Task What_is_not_there_is_said_on_a_page_of_ours(string address)
    {
        using var browser = running.Service.Client();
        using var answer = await browser.GetAsync(address);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        var page = await HtmlPage.ReadAsync(answer);
        Assert.Equal("Nothing is kept here", page.QuerySelector("h1")!.TextContent);
        Assert.NotNull(page.QuerySelector("main a[href='/']"));
    }

    [Fact]
    public async Task A_mail_is_shown_in_a_frame_without_rights_under_a_policy_of_its_own()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(Fill("/mail/{mail}"));
        var frame = page.QuerySelector("iframe")!;
        Assert.Equal("", frame.GetAttribute("sandbox"));
        Assert.Contains("25 litres", page.QuerySelector("pre")!.TextContent, StringComparison.Ordinal);
        using var html = await browser.GetAsync(frame.GetAttribute("src"));
        var policy = Assert.Single(html.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("frame-ancestors 'self'", policy, StringComparison.Ordinal);
        Assert.EndsWith("sandbox", policy, StringComparison.Ordinal);
        Assert.Equal(Fill("/mail/{mail}/html"), frame.GetAttribute("src"));
    }

    [Theory]
    [InlineData(null, "en")]
    [InlineData("es-MX,es;q=0.9,en;q=0.8", "es")]
    [InlineData("de,en;q=0.5,es;q=0.7", "es")]
    [InlineData("de", "en")]
    [InlineData("es;q=0,en", "en")]
    [InlineData("!!;;q=x", "en")]
    public async Task The_language_is_what_the_browser_asks_for(string? accepted, string spoken)
    {
        using var browser = running.Service.Client(null);
        if (accepted is not null)
            browser.DefaultRequestHeaders.TryAddWithoutValidation("Accept-Language", accepted);
        Assert.Equal(spoken, (await browser.OpenAsync("/nowhere")).DocumentElement.GetAttribute("lang"));
    }

    private async Task<string> StateAsync()
    {
        await using var store = running.Service.Store();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{store.LogEntries.Count(e => e.UndoneAt == null)} {store.Notices.Sum(n => n.Version)} {store.Beds.Sum(b => b.Version)} {store.Sites.Sum(s => s.Version)} {store.Outbox.Count(m => m.State == MailState.Sent)}");
    }

    private string Fill(string address) => address
        .Replace("{straw}", Key(Invented.Straw), StringComparison.Ordinal)
        .Replace("{hazels}", Key(Invented.Hazels), StringComparison.Ordinal)
        .Replace("{young}", Key(Invented.Young), StringComparison.Ordinal)
        .Replace("{later}", Key(Invented.Later), StringComparison.Ordinal)
        .Replace("{feed}", Key(Invented.Feed), StringComparison.Ordinal)
        .Replace("{trial}", Invented.Trial.ToString(), StringComparison.Ordinal)
        .Replace("{mail}", Key(Invented.Mail), StringComparison.Ordinal)
        .Replace("{person}", Key(running.Service.Coordinator.PersonId), StringComparison.Ordinal)
        .Replace("{hook}", Key(Invented.Webhook), StringComparison.Ordinal)
        .Replace("{lane}", Key(Invented.AlderLane), StringComparison.Ordinal);

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
