using System.Net;
using FruitWatch.Service.Tests.Pages;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;

namespace FruitWatch.Service.Tests.Access;

/// <summary>Headers of every kind of answer: ASVS 5.0 3.4.1–3.4.6 and 3.4.8, 4.1.3, 12.2.1.</summary>
public sealed class HeaderTests
{
    private static readonly string[] s_always =
        ["Content-Security-Policy", "X-Content-Type-Options", "Referrer-Policy", "Cross-Origin-Opener-Policy", "Cross-Origin-Resource-Policy", "Permissions-Policy"];

    [Theory]
    [InlineData("GET", "/", 200)]
    [InlineData("GET", "/nowhere", 404)]
    [InlineData("GET", "/beds/987654321", 404)]
    [InlineData("POST", "/beds/1?handler=Log", 400)]
    [InlineData("GET", "/site.css", 200)]
    [InlineData("GET", "/api/v1/sites", 200)]
    [InlineData("GET", "/api/v1/sites/987654321", 404)]
    [InlineData("DELETE", "/api/v1/sites", 405)]
    [InlineData("GET", "/openapi/v1.json", 200)]
    [InlineData("GET", "/operating/jobs", 200)]
    [InlineData("GET", "/break", 500)]
    [InlineData("GET", "/health/live", 200)]
    public async Task Each_kind_of_answer_carries_them_all(string method, string path, int status)
    {
        await using var service = await StartAsync();
        var operating = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Store.Entities.Role.Coordinator, "Wren", operating: true);
        using var client = service.Client(operating);
        using var answer = await client.SendAsync(new HttpRequestMessage(new HttpMethod(method), path));
        Assert.Equal(status, (int)answer.StatusCode);
        foreach (var name in s_always)
            Assert.True(answer.Headers.Contains(name), $"{name} is missing");
        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe-eval", policy, StringComparison.Ordinal);
        Assert.DoesNotMatch("script-src[^;]*unsafe", policy);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.False(answer.Headers.Contains("Server"), "The server names itself");
        Assert.False(answer.Headers.Contains("Strict-Transport-Security"), "There is no TLS here");
    }

    [Fact]
    public async Task Tls_is_believed_of_the_proxies_that_are_named_and_of_nobody_else()
    {
        await using var alone = await StartAsync();
        await using var behind = await StartAsync(("FruitWatch:Proxies:0", "127.0.0.1"), ("FruitWatch:BaseUrl", "https://beds.example"));
        foreach (var (service, believed) in new[] { (alone, false), (behind, true) })
        {
            using var client = service.Client(null);
            client.DefaultRequestHeaders.Add("X-Forwarded-Proto", "https");
            client.DefaultRequestHeaders.Add("X-Forwarded-For", "203.0.113.9");
            using var answer = await client.GetAsync("/health/live");
            Assert.Equal(believed ? ["max-age=31536000"] : [], answer.Headers.TryGetValues("Strict-Transport-Security", out var set) ? set : []);
            using var from = await client.GetAsync("/from");
            Assert.Equal(believed, await from.Content.ReadAsStringAsync() == "203.0.113.9");
        }
    }

    [Fact]
    public async Task Cookies_are_held_to_host_and_tls_behind_a_proxy_and_are_never_for_scripts()
    {
        await using var behind = await StartAsync(("FruitWatch:Proxies:0", "127.0.0.1"), ("FruitWatch:BaseUrl", "https://beds.example"));
        Assert.StartsWith("__Host-session=", behind.Coordinator.Session, StringComparison.Ordinal);
        using var client = behind.Client();
        client.DefaultRequestHeaders.Add("X-Forwarded-Proto", "https");
        using var answer = await client.GetAsync("/");
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var cookies = answer.Headers.GetValues("Set-Cookie").ToList();
        Assert.NotEmpty(cookies);
        Assert.All(cookies, cookie =>
        {
            Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("secure", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("samesite", cookie, StringComparison.OrdinalIgnoreCase);
        });
    }

    /// <summary>The jobs' own pages come from loopback here, which their library lets in by itself.</summary>
    [Fact]
    public async Task The_jobs_are_for_operators_wherever_somebody_comes_from()
    {
        await using var service = await StartAsync();
        using var coordinator = service.Client();
        Assert.Equal(HttpStatusCode.Forbidden, (await coordinator.GetAsync("/operating/jobs")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await coordinator.GetAsync("/operating/jobs/recurring")).StatusCode);
        using var nobody = service.Client(null);
        Assert.Equal(HttpStatusCode.Redirect, (await nobody.GetAsync("/operating/jobs")).StatusCode);
        using var operating = service.Client(await Member.JoinAsync(service.Services, service.Invented.Cooperative, Store.Entities.Role.Viewer, "Wren", operating: true));
        Assert.Equal(HttpStatusCode.OK, (await operating.GetAsync("/operating/jobs/recurring")).StatusCode);
        Assert.NotEqual(HttpStatusCode.OK, (await operating.PostAsync("/operating/jobs/recurring/trigger", new FormUrlEncodedContent([new("jobs[]", "morning-tick")]))).StatusCode);
    }

    private static Task<TestService> StartAsync(params (string Key, string Value)[] settings) => TestService.StartAsync(
        map: app =>
        {
            app.MapGet("/break", IResult () => throw new InvalidOperationException("secret detail")).AllowAnonymous();
            app.MapGet("/from", (HttpContext context) => context.Connection.RemoteIpAddress!.ToString()).AllowAnonymous();
        },
        settings: settings);
}
