using System.Globalization;
using System.Net;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.Api;

public sealed class RefusalTests(OneService running) : IClassFixture<OneService>
{
    private const string Site = """{"name":"Low Meadow","latitudeDeg":43,"longitudeDeg":-3,"zoneId":"Europe/Madrid"}""";
    private const string Bed = """{"siteId":1,"name":"New","speciesKey":"wine-cap","areaM2":2,"inoculatedOn":"2026-09-01","layers":[{"materialKey":"hardwood-chips","depthM":0.1}]}""";
    private const string Entry = """{"kind":"watered","on":"2026-10-01","amount":10}""";

    /// <summary>What is sent, what is answered, and the field that is named.</summary>
    public static TheoryData<string, string, string?, int, string?> Bad => new()
    {
        { "POST", "/sites", Site.Replace("\"Low Meadow\"", "\"\""), 400, "name" },
        { "POST", "/sites", Site.Replace("\"Low Meadow\"", "\"   \""), 400, "name" },
        { "POST", "/sites", Site.Replace("\"Low Meadow\"", "7"), 400, "name" },
        { "POST", "/sites", Site.Replace("Low Meadow", new string('x', 81)), 400, "name" },
        { "POST", "/sites", Site.Replace("Low Meadow", "a\\u0000b"), 400, "name" },
        { "POST", "/sites", Site.Replace("43", "90.1"), 400, "latitudeDeg" },
        { "POST", "/sites", Site.Replace("43", "\"43\""), 400, "latitudeDeg" },
        { "POST", "/sites", Site.Replace("43", "1e999"), 400, "latitudeDeg" },
        { "POST", "/sites", Site.Replace("-3", "-181"), 400, "longitudeDeg" },
        { "POST", "/sites", Site.Replace("Europe/Madrid", "Europe/Nowhere"), 400, "zoneId" },
        { "POST", "/sites", Site.Replace("}", ",\"morningAt\":\"25:00\"}"), 400, "morningAt" },
        { "POST", "/sites", Site.Replace("}", ",\"coastal\":\"yes\"}"), 400, "coastal" },
        { "POST", "/sites", Site.Replace("}", ",\"forecastFeedId\":999}"), 400, "forecastFeedId" },
        { "POST", "/sites", Site.Replace("}", ",\"forecastFeedId\":1.5}"), 400, "forecastFeedId" },
        { "POST", "/sites", Site.Replace("}", ",\"cooperativeId\":999}"), 400, "cooperativeId" },
        { "POST", "/sites", Site.Replace("}", ",\"altitude\":3}"), 400, "altitude" },
        { "POST", "/sites", Site.Replace("}", ",\"name\":\"twice\"}"), 400, "body" },
        { "POST", "/sites", "{", 400, "body" },
        { "POST", "/sites", "", 400, "body" },
        { "POST", "/sites", "[]", 400, "body" },
        { "POST", "/sites", "null", 400, "body" },
        { "POST", "/sites", "{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":1}}}}}}}}}", 400, "body" },
        { "PUT", "/sites/999", Site, 404, null },
        { "PUT", "/sites/1", "{}", 400, "zoneId" },
        { "DELETE", "/sites/1", null, 405, null },
        { "GET", "/sites/999", null, 404, null },
        { "GET", "/sites/one", null, 404, null },
        { "GET", "/sites/99999999999999999999", null, 404, null },
        { "GET", "/sites?limit=0", null, 400, "limit" },
        { "GET", "/sites?limit=201", null, 400, "limit" },
        { "GET", "/sites?cursor=next", null, 400, "cursor" },
        { "POST", "/beds", Bed.Replace("wine-cap", "fly-agaric"), 400, "speciesKey" },
        { "POST", "/beds", Bed.Replace("hardwood-chips", "concrete"), 400, "layers" },
        { "POST", "/beds", Bed.Replace("\"depthM\":0.1", "\"depthM\":-1"), 400, "layers[0].depthM" },
        { "POST", "/beds", Bed.Replace("\"depthM\":0.1", "\"depthM\":0.1,\"colour\":1"), 400, "layers[0].colour" },
        { "POST", "/beds", Bed.Replace("\"depthM\":0.1", "\"depthM\":0.1,\"laidOn\":\"2026-09-02\""), 400, "layers[0].laidOn" },
        { "POST", "/beds", Bed.Replace("[{\"materialKey\":\"hardwood-chips\",\"depthM\":0.1}]", "[]"), 400, "layers" },
        { "POST", "/beds", Bed.Replace("[{\"materialKey\":\"hardwood-chips\",\"depthM\":0.1}]", "[1]"), 400, "layers[0]" },
        { "POST", "/beds", Bed.Replace("\"siteId\":1", "\"siteId\":999"), 400, "siteId" },
        { "POST", "/beds", Bed.Replace("\"areaM2\":2", "\"areaM2\":0"), 400, "areaM2" },
        { "POST", "/beds", Bed.Replace("2026-09-01", "2026-02-30"), 400, "inoculatedOn" },
        { "POST", "/beds", Bed.Replace("2026-09-01", "0001-01-01"), 400, "inoculatedOn" },
        { "POST", "/beds", Bed.Replace("\"areaM2\":2", "\"areaM2\":2,\"mulchCm\":3"), 400, "mulchMaterialKey" },
        { "POST", "/beds", Bed.Replace("\"areaM2\":2", "\"areaM2\":2,\"cover\":\"tarpaulin\""), 400, "cover" },
        { "POST", "/beds", Bed.Replace("\"areaM2\":2", "\"areaM2\":2,\"cover\":1"), 400, "cover" },
        { "POST", "/beds", Bed.Replace("\"areaM2\":2", "\"areaM2\":2,\"retiredOn\":\"2026-08-01\""), 400, "retiredOn" },
        { "PUT", "/beds/1", Bed.Replace("\"siteId\":1", "\"siteId\":2"), 400, "siteId" },
        { "PUT", "/beds/1", Bed, 400, "inoculatedOn" },
        { "GET", "/beds?siteId=x", null, 400, "siteId" },
        { "GET", "/beds/999", null, 404, null },
        { "GET", "/beds/999/today", null, 404, null },
        { "GET", "/beds/999/account", null, 404, null },
        { "GET", "/beds/999/outlook", null, 404, null },
        { "GET", "/beds/one/outlook", null, 404, null },
        { "GET", "/beds/1/account?from=yesterday", null, 400, "from" },
        { "GET", "/beds/1/account?from=2026-10-05&to=2026-10-01", null, 400, "to" },
        { "GET", "/beds/1/account?from=1990-01-01&to=2026-10-01", null, 400, "from" },
        { "GET", "/beds/1/account?format=xml", null, 400, "format" },
        { "GET", "/beds/999/notices", null, 404, null },
        { "GET", "/notices?state=lost", null, 400, "state" },
        { "GET", "/notices?state=0", null, 400, "state" },
        { "POST", "/beds/999/log", Entry, 404, null },
        { "POST", "/beds/1/log", Entry.Replace("watered", "sung-to"), 400, "kind" },
        { "POST", "/beds/1/log", Entry.Replace("2026-10-01", "2026-10-15"), 400, "on" },
        { "POST", "/beds/1/log", Entry.Replace("2026-10-01", "2026-06-05"), 400, "on" },
        { "POST", "/beds/1/log", Entry.Replace("2026-10-01", "1 October"), 400, "on" },
        { "POST", "/beds/1/log", Entry.Replace("10}", "0}"), 400, "amount" },
        { "POST", "/beds/1/log", Entry.Replace("10}", "\"10\"}"), 400, "amount" },
        { "POST", "/beds/1/log", Entry.Replace(",\"amount\":10", ""), 400, "amount" },
        { "POST", "/beds/1/log", Entry.Replace("watered", "pins"), 400, "amount" },
        { "POST", "/beds/1/log", Entry.Replace("10}", "10,\"text\":\"wet\"}"), 400, "text" },
        { "POST", "/beds/1/log", Entry.Replace("10}", "10,\"at\":\"noon\"}"), 400, "at" },
        { "POST", "/beds/1/log", """{"kind":"squeeze","on":"2026-10-01","text":"1"}""", 400, "text" },
        { "POST", "/beds/1/log", """{"kind":"topped-up","on":"2026-10-01","text":"concrete","depthM":0.1}""", 400, "text" },
        { "POST", "/beds/1/log", """{"kind":"topped-up","on":"2026-10-01","text":"hardwood-chips","depthM":9}""", 400, "depthM" },
        { "POST", "/beds/1/log", $$"""{"kind":"pins","on":"2026-10-01","note":"{{new string('x', 1001)}}"}""", 400, "note" },
        { "PUT", "/beds/1/log/999", Entry, 404, null },
        { "PUT", "/beds/2/log/1", Entry, 404, null },
        { "DELETE", "/beds/1/log/999", null, 404, null },
        { "DELETE", "/beds/2/log/1", null, 404, null },
        { "PATCH", "/beds/1", "{}", 405, null },
        { "GET", "/nothing", null, 404, null },
    };

    [Theory]
    [MemberData(nameof(Bad))]
    public async Task What_cannot_be_taken_is_refused_by_field_and_changes_nothing(string method, string path, string? body, int status, string? field)
    {
        using var api = new ApiClient(running.Service);
        var before = await CountAsync();
        var answer = await api.SendAsync(method, "/api/v1" + path, body);

        Assert.Equal((HttpStatusCode)status, answer.Status);
        Assert.Equal("application/problem+json", answer.Form);
        var problem = answer.Json;
        Assert.StartsWith("urn:fruitwatch:problem:", problem.GetProperty("type").GetString(), StringComparison.Ordinal);
        Assert.Equal(status, problem.GetProperty("status").GetInt32());
        Assert.False(string.IsNullOrEmpty(problem.GetProperty("title").GetString()));
        Assert.False(string.IsNullOrEmpty(problem.GetProperty("traceId").GetString()));
        Assert.DoesNotContain("Exception", answer.Text, StringComparison.Ordinal);
        if (field is not null)
            Assert.Contains(field, answer.Refused);
        Assert.Equal(before, await CountAsync());
    }

    [Fact]
    public async Task All_wrong_fields_are_told_at_once()
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.SendAsync("POST", "/api/v1/sites", """{"name":1,"latitudeDeg":91,"zoneId":"Mars","colour":"red"}""");
        Assert.Equal(["colour", "latitudeDeg", "longitudeDeg", "name", "zoneId"], answer.Refused.Order());
    }

    [Fact]
    public async Task A_body_that_is_no_json_or_too_large_is_refused_for_what_it_is()
    {
        using var http = running.Service.Client();
        using var form = await http.PostAsync("/api/v1/sites", new FormUrlEncodedContent([new("name", "x")]));
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, form.StatusCode);
        using var api = new ApiClient(running.Service);
        var large = await api.SendAsync("POST", "/api/v1/sites", $$"""{"name":"{{new string('x', 70_000)}}"}""");
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, large.Status);
    }

    private async Task<string> CountAsync()
    {
        await using var store = running.Service.Store();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{store.Sites.Count()} {store.Beds.Count()} {store.BedLayers.Count()} {store.LogEntries.Count()} {store.LogEntries.Count(entry => entry.UndoneAt == null)} {store.Sites.Sum(s => s.Version)} {store.Beds.Sum(b => b.Version)}");
    }
}
