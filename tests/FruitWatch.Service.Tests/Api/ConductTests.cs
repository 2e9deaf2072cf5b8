using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;

namespace FruitWatch.Service.Tests.Api;

/// <summary>Versions, limits and requests that are none, as every operation of the API meets them.</summary>
public sealed class ConductTests(OneService running) : IClassFixture<OneService>
{
    private const string Site = """{"name":"Alder Lane","latitudeDeg":43.2,"longitudeDeg":-3.1,"elevationM":120,"zoneId":"Europe/Madrid","forecastFeedId":1}""";

    /// <summary>RFC 9110 §13.1.1 and RFC 6585 §3.</summary>
    [Theory]
    [InlineData("", 428)]
    [InlineData("\"99\"", 412)]
    [InlineData("W/\"1\"", 412)]
    [InlineData("1", 400)]
    [InlineData("\"98\", \"99\"", 412)]
    public async Task A_change_names_the_version_that_it_is_meant_for(string version, int status)
    {
        using var api = new ApiClient(running.Service);
        var before = await api.GetAsync("/api/v1/sites/1");
        Assert.Equal((HttpStatusCode)status, (await api.SendAsync("PUT", "/api/v1/sites/1", Site, ("If-Match", version))).Status);
        Assert.Equal(before.ETag, (await api.GetAsync("/api/v1/sites/1")).ETag);
    }

    /// <summary>Whatever is kept with a version is changed and removed under If-Match only; an operation that forgot it shows here.</summary>
    [Fact]
    public void Every_change_of_what_has_a_version_asks_for_it()
    {
        var changes = running.Service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .Where(endpoint => endpoint.RoutePattern.RawText!.StartsWith("/api/v1", StringComparison.Ordinal)
                && endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods.Any(method => method is "PUT" or "DELETE") == true)
            .Where(endpoint => endpoint.Metadata.GetMetadata<NeedsVersionMetadata>() is null)
            .Select(endpoint => endpoint.Metadata.GetMetadata<IEndpointNameMetadata>()!.EndpointName);
        // An entry is replaced and never changed; a trial is thrown away after a day; a backfill runs or is halted; a token, a link, an invitation is taken back once.
        Assert.Equal(["ChangeFeedTrial", "CorrectLogEntry", "HaltBackfill", "HandInFeedFile", "RevokeCalendar", "RevokePersonalLink", "RevokeToken", "StartBackfill", "TakeBackInvitation", "UndoLogEntry"], changes.Order());
    }

    [Theory]
    [InlineData("/api/v1/beds")]
    [InlineData("/api/v1/species")]
    [InlineData("/api/v1/beds/1/outlook")]
    [InlineData("/api/v1/beds/1/account?format=csv")]
    [InlineData("/openapi/v1.json")]
    public async Task Lists_and_computed_answers_spare_a_reader_what_it_has(string address)
    {
        using var http = running.Service.Client();
        using var first = await http.GetAsync(address);
        Assert.False(first.Headers.ETag!.IsWeak);
        using var request = new HttpRequestMessage(HttpMethod.Get, address) { Headers = { IfNoneMatch = { first.Headers.ETag } } };
        using var second = await http.SendAsync(request);
        Assert.Equal(HttpStatusCode.NotModified, second.StatusCode);
        Assert.Empty(await second.Content.ReadAsByteArrayAsync());
        Assert.Equal(first.Headers.ETag, second.Headers.ETag);
    }

    /// <summary>draft-ietf-httpapi-ratelimit-headers-10; RFC 6585 §4.</summary>
    [Fact]
    public async Task What_is_left_is_told_and_too_many_are_refused_until_the_window_ends()
    {
        var time = new FakeTimeProvider();
        await using var service = await TestService.StartAsync(services => services.AddSingleton<TimeProvider>(time), apiPerMinute: 3);
        using var http = service.Client();
        for (var left = 2; left >= 0; left--)
        {
            using var good = await http.GetAsync("/api/v1/beds");
            Assert.Equal(HttpStatusCode.OK, good.StatusCode);
            Assert.Equal("\"api\";q=3;w=60", good.Headers.GetValues("RateLimit-Policy").Single());
            Assert.Equal($"\"api\";r={left};t=60", good.Headers.GetValues("RateLimit").Single());
        }

        time.Advance(TimeSpan.FromSeconds(18));
        using var refused = await http.GetAsync("/api/v1/beds");
        Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
        Assert.Equal("application/problem+json", refused.Content.Headers.ContentType?.MediaType);
        Assert.Equal("42", refused.Headers.RetryAfter?.ToString());
        Assert.Equal("\"api\";r=0;t=42", refused.Headers.GetValues("RateLimit").Single());

        // Another token has a window of its own, pages have none, and no window outlasts its minute.
        var other = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Viewer, "Ola Reed");
        using (var theirs = service.Client(other))
            Assert.Equal(HttpStatusCode.OK, (await theirs.GetAsync("/api/v1/beds")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/notices")).StatusCode);
        time.Advance(TimeSpan.FromSeconds(42));
        Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/api/v1/beds")).StatusCode);
    }

    [Fact]
    public async Task Guessed_tokens_are_counted_together_by_where_they_come_from()
    {
        await using var service = await TestService.StartAsync(services => services.AddSingleton<TimeProvider>(new FakeTimeProvider()), apiPerMinute: 5);
        using var http = service.Client(null);
        var statuses = new List<HttpStatusCode>();
        for (var i = 0; i < 7; i++)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, "/api/v1/beds") { Headers = { Authorization = new AuthenticationHeaderValue("Bearer", $"fw_{i}_guess{i}") } };
            statuses.Add((await http.SendAsync(request)).StatusCode);
        }

        Assert.Equal([.. Enumerable.Repeat(HttpStatusCode.Unauthorized, 5), HttpStatusCode.TooManyRequests, HttpStatusCode.TooManyRequests], statuses);
    }

    /// <summary>What is sent, what is answered, and the field that is named.</summary>
    [Theory]
    [InlineData("GET", "/api/v1/beds?sitId=1", null, 400, "sitId")]
    [InlineData("GET", "/api/v1/species?limit=3", null, 400, "limit")]
    [InlineData("GET", "/api/v1/beds?limit=1&limit=2", null, 400, "limit")]
    [InlineData("GET", "/api/v1/beds?siteId=%ff", null, 400, "query")]
    [InlineData("GET", "/api/v1/beds?siteId=1%00", null, 400, "query")]
    [InlineData("GET", "/api/v1/beds?siteId=%ed%a0%80", null, 400, "query")]
    [InlineData("GET", "/api/v1/beds?limit=99999999999999999999", null, 400, "limit")]
    [InlineData("GET", "/api/v1/beds?cursor=99999999999999999999", null, 400, "cursor")]
    [InlineData("GET", "/api/v1/beds/1/account?from=2026-02-30", null, 400, "from")]
    [InlineData("GET", "/api/v1/beds/1/account?to=9999-12-31", null, 400, "from")]
    [InlineData("POST", "/api/v1/sites", "{\"name\":\"\\ud800\"}", 400, "body")]
    [InlineData("POST", "/api/v1/sites", "{\"\\udfff\":1}", 400, "body")]
    public async Task What_is_no_request_is_refused_by_field(string method, string address, string? body, int status, string field)
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.SendAsync(method, address, body);
        Assert.Equal((HttpStatusCode)status, answer.Status);
        Assert.Contains(field, answer.Refused);
    }

    [Fact]
    public async Task A_body_that_is_not_utf8_is_refused()
    {
        using var http = running.Service.Client();
        using var body = new ByteArrayContent([.. "{\"name\":\""u8, 0xc3, 0x28, .. "\"}"u8]) { Headers = { ContentType = new MediaTypeHeaderValue("application/json") } };
        using var answer = await http.PostAsync("/api/v1/sites", body);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("UTF-8", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("text/html", 406)]
    [InlineData("application/json;q=0", 406)]
    [InlineData("application/*", 200)]
    [InlineData("text/html, */*;q=0.1", 200)]
    [InlineData("application/json; charset=utf-8", 200)]
    public async Task What_cannot_be_given_as_accepted_is_refused(string accept, int status)
    {
        using var api = new ApiClient(running.Service);
        Assert.Equal((HttpStatusCode)status, (await api.GetAsync("/api/v1/beds", ("Accept", accept))).Status);
    }

    /// <summary>Found by OddRequestTests: refusals of routing itself were plain text for who accepts no JSON.</summary>
    [Theory]
    [InlineData("GET", "/api/v1/nothing", 404)]
    [InlineData("GET", "/api/v1/sites/9223372036854775808", 404)]
    [InlineData("PATCH", "/api/v1/beds/1", 405)]
    public async Task A_refusal_is_a_problem_whatever_is_accepted(string method, string address, int status)
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.SendAsync(method, address, null, ("Accept", "text/html"));
        Assert.Equal((HttpStatusCode)status, answer.Status);
        Assert.Equal("application/problem+json", answer.Form);
        Assert.StartsWith("urn:fruitwatch:problem:", answer.Json.GetProperty("type").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_method_that_an_address_does_not_know_is_refused_with_those_that_it_does()
    {
        using var http = running.Service.Client();
        using var answer = await http.DeleteAsync("/api/v1/sites/1");
        Assert.Equal(HttpStatusCode.MethodNotAllowed, answer.StatusCode);
        Assert.Equal(["GET", "PUT"], answer.Content.Headers.Allow.Order());
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
    }

    /// <summary>What no client library sends: over a bare connection.</summary>
    [Theory]
    [InlineData("address", 414)]
    [InlineData("headers", 431)]
    [InlineData("many-headers", 431)]
    [InlineData("large", 413)]
    [InlineData("chunks", 400)]
    public async Task What_is_too_long_or_broken_is_refused_with_words(string what, int status)
    {
        var address = what == "address" ? "/api/v1/beds?cursor=" + new string('1', AddressLimits.LongestAddress) : "/api/v1/sites";
        var method = what is "large" or "chunks" ? "POST" : "GET";
        var more = what switch
        {
            "headers" => $"X-Long: {new string('a', AddressLimits.LargestHeaders)}\r\n",
            "many-headers" => string.Concat(Enumerable.Range(0, AddressLimits.MostHeaders + 5).Select(i => $"X-{i}: 1\r\n")),
            "large" => "Content-Type: application/json\r\nContent-Length: 99999999999\r\n",
            "chunks" => "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n",
            _ => "",
        };
        var text = $"{method} {address} HTTP/1.1\r\nHost: {running.Service.Address.Authority}\r\nAuthorization: Bearer {running.Service.Coordinator.Token}\r\nConnection: close\r\n{more}\r\n"
            + (what == "chunks" ? "not-a-length\r\n" : "");
        using var connection = new TcpClient();
        await connection.ConnectAsync(running.Service.Address.Host, running.Service.Address.Port);
        var stream = connection.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(text));
        using var reader = new StreamReader(stream);
        var answer = await reader.ReadToEndAsync();
        Assert.StartsWith($"HTTP/1.1 {status}", answer, StringComparison.Ordinal);
        Assert.Contains("application/problem+json", answer, StringComparison.Ordinal);
        Assert.Contains("urn:fruitwatch:problem:", answer, StringComparison.Ordinal);
    }
}
