using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Text.Json;
using FruitWatch.Service.Access;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace FruitWatch.Service.Tests.People;

/// <summary>A farm hand's personal link, from the coordinator's page to the log entry (service-standards 3.3; test 28).</summary>
public sealed class PersonalLinkTests(OneService running) : IClassFixture<OneService>
{
    private TestService Service => running.Service;

    [Fact]
    public async Task A_link_is_shown_once_in_letters_and_as_a_code()
    {
        var hand = await HandAsync(Service);
        using var browser = Service.Browser();
        var page = await browser.OpenAsync($"/people/{hand}");
        using var answer = await browser.SubmitAsync(page.QuerySelector("#link-name")!, ("name", "Rosa's phone"), ("days", "30"));
        Assert.True(answer.Headers.CacheControl!.NoStore);
        var made = await HtmlPage.ReadAsync(answer);
        var address = made.QuerySelector(".once code")!.TextContent;
        Assert.Matches("^http://localhost:5080/with/[A-Za-z0-9_-]{43}$", address);
        var code = made.QuerySelector(".once svg.qr")!;
        Assert.Equal("QR code of the link Rosa's phone", code.GetAttribute("aria-label"));
        Assert.Empty(made.QuerySelectorAll("[style], style, script"));
        await using (var store = Service.Store())
        {
            var link = await store.PersonalLinks.SingleAsync(row => row.PersonId == hand);
            Assert.Equal((Secrets.Hash(address.Split('/')[^1]), InventedCooperative.Now + Duration.FromDays(30), "Rosa's phone"), (link.Hash, link.ExpiresAt, link.Name));
        }

        var later = await browser.OpenAsync($"/people/{hand}");
        Assert.Null(later.QuerySelector(".once"));
        Assert.DoesNotContain(address.Split('/')[^1], later.Source.Text, StringComparison.Ordinal);
    }

    /// <summary>Programs look at links before people do: looking does nothing (ASVS 5.0 3.5.3).</summary>
    [Fact]
    public async Task Looking_at_a_link_does_nothing_and_its_button_opens_todays_list()
    {
        var hand = await HandAsync(Service);
        var address = await LinkAsync(Service, hand);
        using var browser = Service.Browser(null);
        for (var i = 0; i < 3; i++)
        {
            using var seen = await browser.GetAsync(address);
            Assert.Equal(HttpStatusCode.OK, seen.StatusCode);
            Assert.False(seen.Headers.TryGetValues("Set-Cookie", out var set) && set.Any(cookie => cookie.StartsWith("link=", StringComparison.Ordinal)));
            Assert.Equal("no-referrer", Assert.Single(seen.Headers.GetValues("Referrer-Policy")));
            Assert.True(seen.Headers.CacheControl!.NoStore);
            Assert.Equal("noindex", Assert.Single(seen.Headers.GetValues("X-Robots-Tag")));
        }

        await using (var store = Service.Store())
            Assert.Null((await store.PersonalLinks.SingleAsync(row => row.PersonId == hand)).LastUsedAt);
        var page = await browser.OpenAsync(address);
        using var opened = await browser.SubmitAsync(page.QuerySelector("main form")!);
        Assert.Equal("/", opened.RequestMessage!.RequestUri!.AbsolutePath);
        var list = await HtmlPage.ReadAsync(opened);
        Assert.Contains("Alder Lane", list.Body!.Read(), StringComparison.Ordinal);
        Assert.DoesNotContain("Mill Field", list.Body!.Read(), StringComparison.Ordinal);

        // What was done is written down, by whom it was done.
        var form = (await browser.OpenAsync($"/beds/{Service.Invented.Hazels}?log=watered")).QuerySelector("form.entry")!;
        using var logged = await browser.SubmitAsync(form, ("amount", "12"));
        Assert.Contains("by Rosa Hand", (await HtmlPage.ReadAsync(logged)).QuerySelector(".entries")!.Read(), StringComparison.Ordinal);

        // Every link on what they see leads to where they are let in.
        foreach (var start in new[] { "/", $"/beds/{Service.Invented.Hazels}", "/notices" })
        {
            var seen = await browser.OpenAsync(start);
            foreach (var leads in seen.QuerySelectorAll("a[href^='/']").Select(link => link.GetAttribute("href")!.Split('#')[0]).Where(path => path.Length > 0).Distinct())
                Assert.True((await browser.GetAsync(leads)).IsSuccessStatusCode, $"{start} leads a farm hand to {leads}");
        }

        using var account = await browser.GetAsync("/account");
        Assert.Equal(HttpStatusCode.Forbidden, account.StatusCode);

        // Leaving forgets it.
        var bar = (await browser.OpenAsync("/")).QuerySelector("aside.as form")!;
        using var left = await browser.SubmitAsync(bar);
        Assert.Equal("You have left", (await HtmlPage.ReadAsync(left)).QuerySelector("h1")!.TextContent);
        using var after = await browser.GetAsync("/");
        Assert.Contains("/sign-in", after.RequestMessage!.RequestUri!.AbsolutePath, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_link_that_is_unknown_expired_or_taken_back_opens_nothing_and_does_not_say_which()
    {
        await using var service = await TestService.StartAsync();
        var hand = await HandAsync(service);
        var (expired, revoked, inactive) = (await LinkAsync(service, hand), await LinkAsync(service, hand), await LinkAsync(service, await HandAsync(service)));
        using var holder = service.Browser(null);
        using (await holder.SubmitAsync((await holder.OpenAsync(revoked)).QuerySelector("main form")!))
        {
        }

        await using (var store = service.Store())
        {
            var links = await store.PersonalLinks.OrderBy(row => row.Id).ToListAsync();
            links[0].ExpiresAt = InventedCooperative.Now;
            links[1].RevokedAt = InventedCooperative.Now;
            (await store.People.SingleAsync(row => row.Id == links[2].PersonId)).Active = false;
            await store.SaveChangesAsync();
        }

        var told = new HashSet<string>();
        foreach (var address in new[] { expired, revoked, inactive, "/with/" + Secrets.Draw() })
        {
            using var browser = service.Browser(null);
            using var answer = await browser.GetAsync(address);
            Assert.Equal(HttpStatusCode.Gone, answer.StatusCode);
            told.Add((await HtmlPage.ReadAsync(answer)).QuerySelector("main")!.Read());
        }

        Assert.Contains("Ask your coordinator", Assert.Single(told), StringComparison.Ordinal);
        // Whoever had come in by it is told at the next page, and not asked for a password that they do not have.
        using var next = await holder.GetAsync("/");
        Assert.Equal("/with", next.RequestMessage!.RequestUri!.AbsolutePath);
    }

    [Fact]
    public async Task Ten_tries_in_a_minute_and_no_more()
    {
        await using var service = await TestService.StartAsync();
        using var browser = service.Browser(null);
        var answers = new List<HttpStatusCode>();
        for (var i = 0; i < 12; i++)
            answers.Add((await browser.GetAsync("/with/" + Secrets.Draw())).StatusCode);
        Assert.Equal([.. Enumerable.Repeat(HttpStatusCode.Gone, 10), HttpStatusCode.TooManyRequests, HttpStatusCode.TooManyRequests], answers);
    }

    /// <summary>ASVS 5.0 16.2.5: no secret in a log, whatever an operator has switched on.</summary>
    [Fact]
    public async Task No_line_of_the_log_holds_the_secret()
    {
        var lines = new Lines();
        await using var service = await TestService.StartAsync(services => services.AddLogging(logging => logging.AddProvider(lines).AddFilter<Lines>(null, LogLevel.Trace)));
        var secret = (await LinkAsync(service, await HandAsync(service))).Split('/')[^1];
        using var browser = service.Browser(null);
        var page = await browser.OpenAsync($"/with/{secret}");
        using (await browser.SubmitAsync(page.QuerySelector("main form")!))
        {
        }

        Assert.Contains(lines.Told, line => line.Contains("/with/-", StringComparison.Ordinal));
        Assert.DoesNotContain(lines.Told, line => line.Contains(secret, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("""{"name":"","days":5}""", "name")]
    [InlineData("""{"name":"a","days":0}""", "days")]
    [InlineData("""{"name":"a","days":366}""", "days")]
    [InlineData("""{"name":"a","days":1.5}""", "days")]
    [InlineData("""{"name":"a\nb"}""", "name")]
    public async Task A_link_that_cannot_be_is_refused_at_its_field(string body, string field)
    {
        using var api = new ApiClient(Service);
        var answer = await api.SendAsync("POST", $"/api/v1/people/{await HandAsync(Service)}/links", body);
        Assert.Equal((HttpStatusCode.BadRequest, field), (answer.Status, Assert.Single(answer.Refused)));
    }

    [Fact]
    public async Task Links_are_for_farm_hands_and_end_with_the_role()
    {
        using var api = new ApiClient(Service);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", $"/api/v1/people/{Service.Coordinator.PersonId}/links", """{"name":"mine"}""")).Status);
        var hand = await HandAsync(Service);
        var made = await api.SendAsync("POST", $"/api/v1/people/{hand}/links", """{"name":"phone"}""");
        Assert.Equal("2027-01-12T06:30:00Z", made.Json.GetProperty("expiresAt").GetString());
        var link = made.Json.GetProperty("id").GetInt64();
        Assert.Equal(HttpStatusCode.NotFound, (await api.SendAsync("DELETE", $"/api/v1/people/{Service.Coordinator.PersonId}/links/{link}", null)).Status);
        var now = await api.GetAsync(PeopleApiTests.Path(hand));
        await PeopleApiTests.ChangeAsync(api, now, new { role = "viewer", email = PeopleApiTests.NewAddress() });
        var listed = (await api.GetAsync($"/api/v1/people/{hand}/links")).Json.GetProperty("items")[0];
        Assert.Equal(JsonValueKind.String, listed.GetProperty("revokedAt").ValueKind);
        Assert.False(listed.TryGetProperty("address", out _));
    }

    private static async Task<long> HandAsync(TestService service)
    {
        await using var store = service.Store();
        var person = new Person { CooperativeId = service.Invented.Cooperative, Name = "Rosa Hand", Email = "", Role = Role.FarmHand };
        person.Sites.Add(new PersonSite { SiteId = service.Invented.AlderLane });
        store.People.Add(person);
        await store.SaveChangesAsync();
        return person.Id;
    }

    private static async Task<string> LinkAsync(TestService service, long person)
    {
        using var api = new ApiClient(service);
        var made = await api.SendAsync("POST", $"/api/v1/people/{person.ToString(CultureInfo.InvariantCulture)}/links", """{"name":"phone"}""");
        return new Uri(made.Json.GetProperty("address").GetString()!).AbsolutePath;
    }

    /// <summary>All that is logged, scopes too.</summary>
    private sealed class Lines : ILoggerProvider, ILogger
    {
        private readonly ConcurrentQueue<string> told = new();

        public IReadOnlyCollection<string> Told => told;

        public ILogger CreateLogger(string categoryName) => this;

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull
        {
            told.Enqueue(state is IEnumerable<KeyValuePair<string, object?>> values ? string.Join(' ', values) : $"{state}");
            return null;
        }

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            told.Enqueue($"{formatter(state, exception)} {exception}");

        public void Dispose()
        {
        }
    }
}
