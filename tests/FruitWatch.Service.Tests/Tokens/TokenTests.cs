using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using FruitWatch.Service.Access;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Tokens;

/// <summary>Tokens of programs (service-standards.md 5.2; ASVS 5.0 items 11.5.1, 16.2.5).</summary>
public sealed class TokenTests(OneService running) : IClassFixture<OneService>
{
    [Fact]
    public async Task A_token_is_told_once_opens_its_scopes_only_and_is_shut_when_taken_back()
    {
        using var owner = running.Service.Client();
        using var made = await PostAsync(owner, """{"name":"Gauge","scopes":["read"],"days":30}""");
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        var json = JsonDocument.Parse(await made.Content.ReadAsStringAsync()).RootElement;
        var token = json.GetProperty("token").GetString()!;
        Assert.Matches("^fw_[0-9]+_[A-Za-z0-9_-]{43}$", token);
        Assert.Equal("2026-11-13T06:30:00Z", json.GetProperty("expiresAt").GetString());

        using var program = With(token);
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/api/v1/beds")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await program.GetAsync("/api/v1/tokens")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await PostAsync(program, """{"kind":"pins","on":"2026-10-10"}""", "/api/v1/beds/1/log")).StatusCode);

        foreach (var address in new[] { "/api/v1/tokens?of=everybody", made.Headers.Location!.ToString() })
            Assert.DoesNotContain(token[^43..], await owner.GetStringAsync(address), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NoContent, (await owner.DeleteAsync(made.Headers.Location)).StatusCode);
        var refused = await program.GetAsync("/api/v1/beds");
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
        Assert.Equal("Bearer error=\"invalid_token\"", refused.Headers.WwwAuthenticate.ToString());
        Assert.Contains("\"revoked\"", await owner.GetStringAsync(made.Headers.Location), StringComparison.Ordinal);

        // Neither the store's audit nor the log holds the secret.
        await using var store = running.Service.Store();
        Assert.Contains(await store.Audit.ToListAsync(), entry => entry.Action == "token.made");
        Assert.DoesNotContain(await store.Audit.ToListAsync(), entry => entry.Detail?.Contains(token[^43..], StringComparison.Ordinal) == true);
        Assert.DoesNotContain(running.Service.Faults.Told, line => line.Contains(token[^43..], StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("""{"scopes":["read"]}""", "name")]
    [InlineData("""{"name":"x"}""", "scopes")]
    [InlineData("""{"name":"x","scopes":[]}""", "scopes")]
    [InlineData("""{"name":"x","scopes":["read","read"]}""", "scopes")]
    [InlineData("""{"name":"x","scopes":["everything"]}""", "scopes")]
    [InlineData("""{"name":"x","scopes":["read"],"days":366}""", "days")]
    [InlineData("""{"name":"x","scopes":["read"],"days":1.5}""", "days")]
    [InlineData("""{"name":"x","scopes":["read"],"days":0}""", "days")]
    public async Task What_cannot_be_a_token_is_refused_by_field(string body, string field)
    {
        using var owner = running.Service.Client();
        using var answer = await PostAsync(owner, body);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.True(JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement.GetProperty("errors").TryGetProperty(field, out _));
    }

    [Fact]
    public async Task Nobody_gives_a_program_more_than_they_may_nor_a_program_another_one()
    {
        var viewer = await Member.JoinAsync(running.Service.Services, running.Service.Invented.Cooperative, Role.Viewer, "Iria Castro");
        using var browser = running.Service.Client(viewer);
        Assert.Equal(HttpStatusCode.BadRequest, (await PostAsync(browser, """{"name":"x","scopes":["read","beds"]}""")).StatusCode);

        using var owner = running.Service.Client();
        using var made = await PostAsync(owner, """{"name":"Maker","scopes":["read","account"]}""");
        using var program = With(JsonDocument.Parse(await made.Content.ReadAsStringAsync()).RootElement.GetProperty("token").GetString()!);
        Assert.Equal(HttpStatusCode.BadRequest, (await PostAsync(program, """{"name":"x","scopes":["beds"]}""")).StatusCode);
        Assert.Equal(HttpStatusCode.Created, (await PostAsync(program, """{"name":"x","scopes":["read"]}""")).StatusCode);
    }

    [Fact]
    public async Task Of_others_only_who_manages_the_cooperative_sees_and_takes_back()
    {
        var grower = await Member.JoinAsync(running.Service.Services, running.Service.Invented.Cooperative, Role.Grower, "Bruno Vidal");
        using var theirs = running.Service.Client(grower);
        using var made = await PostAsync(theirs, """{"name":"Bruno's","scopes":["read"]}""");
        var address = made.Headers.Location!;
        var other = await Member.JoinAsync(running.Service.Services, running.Service.Invented.Cooperative, Role.Grower, "Nerea Pons");
        using var stranger = running.Service.Client(other);
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync(address)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.DeleteAsync(address)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await stranger.GetAsync("/api/v1/tokens?of=everybody")).StatusCode);
        using var coordinator = running.Service.Client();
        Assert.Contains("Bruno's", await coordinator.GetStringAsync("/api/v1/tokens?of=everybody"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NoContent, (await coordinator.DeleteAsync(address)).StatusCode);
    }

    [Fact]
    public async Task A_token_ends_by_itself()
    {
        var clock = new FakeClock(InventedCooperative.Now);
        await using var service = await TestService.StartAsync(services => services.AddSingleton<IClock>(clock));
        using var owner = service.Client();
        using var made = await PostAsync(owner, """{"name":"Short","scopes":["read"],"days":1}""");
        using var program = With(JsonDocument.Parse(await made.Content.ReadAsStringAsync()).RootElement.GetProperty("token").GetString()!, service);
        clock.Advance(Duration.FromHours(23));
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/api/v1/beds")).StatusCode);
        clock.Advance(Duration.FromHours(1));
        Assert.Equal(HttpStatusCode.Unauthorized, (await program.GetAsync("/api/v1/beds")).StatusCode);
    }

    [Fact]
    public async Task On_the_page_a_token_is_made_shown_once_and_taken_back()
    {
        using var browser = running.Service.Browser();
        var page = await browser.OpenAsync("/account/tokens");
        var form = page.QuerySelector("form[action='/account/tokens']")!;
        var hidden = form.QuerySelector("input[name='form-token']")!.GetAttribute("value")!;
        using var answer = await browser.PostAsync("/account/tokens", new FormUrlEncodedContent([new("form-token", hidden), new("name", "Barn <screen>"), new("scope", "read"), new("scope", "nonsense"), new("days", "30")]));
        Assert.True(answer.Headers.CacheControl?.NoStore);
        var made = await HtmlPage.ReadAsync(answer);
        var token = made.QuerySelector("code.secret")!.TextContent;
        using var program = With(token);
        Assert.Equal(HttpStatusCode.OK, (await program.GetAsync("/api/v1/beds")).StatusCode);

        var again = await browser.OpenAsync("/account/tokens");
        Assert.DoesNotContain(token[^43..], again.DocumentElement.OuterHtml, StringComparison.Ordinal);
        var id = token.Split('_')[1];
        using var revoked = await browser.PostAsync("/account/tokens?handler=revoke", new FormUrlEncodedContent([new("form-token", hidden), new("id", id)]));
        Assert.Equal(HttpStatusCode.Unauthorized, (await program.GetAsync("/api/v1/beds")).StatusCode);
    }

    [Fact]
    public async Task A_form_that_says_too_little_is_given_back_with_what_was_wrong()
    {
        using var browser = running.Service.Browser();
        var hidden = (await browser.OpenAsync("/account/tokens")).QuerySelector("input[name='form-token']")!.GetAttribute("value")!;
        using var answer = await browser.PostAsync("/account/tokens", new FormUrlEncodedContent([new("form-token", hidden), new("name", " "), new("days", "30")]));
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        var page = await HtmlPage.ReadAsync(answer);
        Assert.NotNull(page.QuerySelector("#name-error"));
        Assert.NotNull(page.QuerySelector("#scopes-error"));
    }

    [Fact]
    public void Every_right_of_a_member_is_in_a_scope()
    {
        var inScopes = Rights.OfScope.Values.SelectMany(rights => rights).ToHashSet();
        Assert.Empty(Enum.GetValues<Role>().SelectMany(Rights.OfRole).Except(inScopes));
    }

    private HttpClient With(string token, TestService? service = null)
    {
        var client = (service ?? running.Service).Client(null);
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return client;
    }

    private static Task<HttpResponseMessage> PostAsync(HttpClient http, string body, string address = "/api/v1/tokens") =>
        http.PostAsync(address, new StringContent(body, Encoding.UTF8, "application/json"));
}
