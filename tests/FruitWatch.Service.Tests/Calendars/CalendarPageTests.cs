using System.Net;
using System.Text.Json;
using FruitWatch.Service.Calendars;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Tests.Calendars;

/// <summary>The page on which a member makes calendars and takes them back, and the same over the API.</summary>
public sealed class CalendarPageTests(OneService running) : IClassFixture<OneService>
{
    private TestService Service => running.Service;

    [Fact]
    public async Task A_calendar_is_shown_once_reads_and_is_taken_back()
    {
        var member = await Member.JoinAsync(Service.Services, Service.Invented.Cooperative, Role.Grower, "Roi Vidal", [Service.Invented.AlderLane]);
        using var browser = Service.Browser(member);
        var page = await browser.OpenAsync("/account/calendars");
        Assert.Contains("The calendar is a plan, the mail is the alarm", page.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.Contains(page.QuerySelectorAll("#siteId option"), option => option.Read() == "All sites that you are told about");
        Assert.Equal("You are told about Alder Lane.", page.QuerySelector("#siteId-hint")!.Read());
        using var answer = await browser.SubmitAsync(page.QuerySelector("#name")!, ("name", "Kitchen"), ("siteId", ""));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.True(answer.Headers.CacheControl!.NoStore);
        var made = await HtmlPage.ReadAsync(answer);
        var address = made.QuerySelector(".once code")!.TextContent;
        Assert.Matches("^http://localhost:5080/calendar/[A-Za-z0-9_-]{43}[.]ics$", address);
        Assert.Equal("webcal" + address[4..], made.QuerySelector(".once a")!.GetAttribute("href"));
        Assert.NotNull(made.QuerySelector(".once svg.qr"));
        Assert.Empty(made.QuerySelectorAll("[style], style, script"));

        using var program = Service.Client(null);
        Assert.Contains("BEGIN:VCALENDAR", await program.GetStringAsync(new Uri(address).AbsolutePath, TestContext.Current.CancellationToken), StringComparison.Ordinal);
        var later = await browser.OpenAsync("/account/calendars");
        Assert.DoesNotContain(address.Split('/')[^1][..43], later.Source.Text, StringComparison.Ordinal);
        Assert.Contains("all sites that you are told about last read 14 October", later.QuerySelector("ul.calendars")!.Read(), StringComparison.Ordinal);

        using var gone = await browser.SubmitAsync(later.QuerySelector("ul.calendars button")!);
        Assert.Contains("was taken back", (await HtmlPage.ReadAsync(gone)).QuerySelector(".done")!.Read(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await program.GetAsync(new Uri(address).AbsolutePath, TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task What_cannot_be_made_is_told_by_field()
    {
        var member = await Member.JoinAsync(Service.Services, Service.Invented.Cooperative, Role.FarmHand, "Sabela Xunta", [Service.Invented.AlderLane]);
        using var browser = Service.Browser(member);
        foreach (var (name, site, field) in new[] { ("", "", "name"), (new string('n', 81), "", "name"), ("Phone", $"{Service.Invented.MillField}", "siteId"), ("Phone", "x", "siteId") })
        {
            var page = await browser.OpenAsync("/account/calendars");
            using var answer = await browser.SubmitAsync(page.QuerySelector("#name")!, ("name", name), ("siteId", site));
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            Assert.NotNull((await HtmlPage.ReadAsync(answer)).QuerySelector($".errors a[href='#{field}']"));
        }
    }

    [Fact]
    public async Task Ten_are_enough_and_nobody_sees_those_of_others()
    {
        var member = await Member.JoinAsync(Service.Services, Service.Invented.Cooperative, Role.Viewer, "Tareixa Zas", [Service.Invented.AlderLane]);
        using var client = Service.Client(member);
        var secrets = new List<string>();
        for (var made = 0; made < CalendarShelf.Most; made++)
        {
            using var answer = await client.PostAsync("/api/v1/me/calendars", Json($$"""{"name":"No. {{made}}"}"""), TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
            Assert.True(answer.Headers.CacheControl!.NoStore);
            secrets.Add(JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).RootElement.GetProperty("address").GetString()![^47..^4]);
        }

        using (var answer = await client.PostAsync("/api/v1/me/calendars", Json("""{"name":"One more"}"""), TestContext.Current.CancellationToken))
            Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
        using (var browser = Service.Browser(member))
        {
            var page = await browser.OpenAsync("/account/calendars");
            using var answer = await browser.SubmitAsync(page.QuerySelector("#name")!, ("name", "One more"), ("siteId", ""));
            Assert.Contains("You have 10 calendars.", (await HtmlPage.ReadAsync(answer)).QuerySelector(".errors")!.Read(), StringComparison.Ordinal);
        }

        var own = await client.GetStringAsync("/api/v1/me/calendars?limit=4", TestContext.Current.CancellationToken);
        Assert.Equal(4, JsonDocument.Parse(own).RootElement.GetProperty("items").GetArrayLength());
        // A coordinator manages people and sees everybody's tokens, but not where somebody reads their calendar.
        using var coordinator = Service.Client();
        foreach (var path in new[] { "/api/v1/me/calendars", "/account/calendars", $"/people/{member.PersonId}", $"/api/v1/people/{member.PersonId}", "/cooperative/audit", "/api/v1/cooperative/export" })
        {
            using var answer = await coordinator.GetAsync(path, TestContext.Current.CancellationToken);
            var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
            Assert.DoesNotContain("No. 3", text, StringComparison.Ordinal);
            Assert.All(secrets, secret => Assert.DoesNotContain(secret, text, StringComparison.Ordinal));
        }

        await using var store = Service.Store();
        var theirs = store.CalendarFeeds.First(row => row.PersonId == member.PersonId);
        using var refused = await coordinator.DeleteAsync($"/api/v1/me/calendars/{theirs.Id}", TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotFound, refused.StatusCode);
    }

    private static StringContent Json(string body) => new(body, System.Text.Encoding.UTF8, "application/json");
}
