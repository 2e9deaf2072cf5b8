using System.Net;
using System.Text.Json.Nodes;
using FruitWatch.Service.Tests.Api;

namespace FruitWatch.Service.Tests.Feeds;

public sealed class FeedApiTests(FeedWorkshop workshop) : IClassFixture<FeedWorkshop>
{
    [Fact]
    public async Task Presets_are_listed_shown_and_can_be_tried_as_they_stand()
    {
        using var api = new ApiClient(workshop.Service);
        var presets = (await api.GetAsync("/api/v1/feed-presets")).Json.GetProperty("items").EnumerateArray().ToList();
        Assert.Equal(16, presets.Count);
        foreach (var preset in presets)
            Assert.Equal(preset.GetProperty("id").GetString(), (await api.GetAsync($"/api/v1/feed-presets/{preset.GetProperty("id").GetString()}")).Json.GetProperty("id").GetString());
        Assert.Equal("https://json-schema.org/draft/2020-12/schema", (await api.GetAsync("/api/v1/feed-presets/schema")).Json.GetProperty("$schema").GetString());
        Assert.Equal(HttpStatusCode.NotFound, (await api.GetAsync("/api/v1/feed-presets/nothing")).Status);
    }

    [Fact]
    public async Task A_feed_is_saved_from_a_trial_changed_by_another_and_deleted()
    {
        using var api = new ApiClient(workshop.Service);
        var trial = await workshop.TryAsync(api, workshop.Description());
        var saved = await api.SendAsync("POST", "/api/v1/feeds", Saved(trial));
        Assert.Equal(HttpStatusCode.Created, saved.Status);
        Assert.Equal(HttpStatusCode.BadRequest, (await api.SendAsync("POST", "/api/v1/feeds", Saved(trial))).Status);
        var feed = await api.GetAsync(saved.Location!);
        Assert.Equal("Brook weather", feed.Json.GetProperty("description").GetProperty("title").GetString());
        Assert.Contains("Brook weather", (await api.GetAsync("/api/v1/feeds")).Text, StringComparison.Ordinal);

        var before = workshop.Server.Requests.Count;
        var change = workshop.Description();
        change["series"]!["rain"]!["unit"]!["code"] = "cm";
        var body = new JsonObject { ["siteId"] = workshop.Service.Invented.AlderLane, ["feedId"] = feed.Json.GetProperty("id").GetInt64(), ["description"] = change };
        var other = await api.SendAsync("POST", "/api/v1/feed-trials", body.ToJsonString());
        Assert.True(other.Json.GetProperty("good").GetBoolean(), other.Text);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", "/api/v1/feeds", Saved(other))).Status);
        Assert.Equal(HttpStatusCode.PreconditionFailed, (await api.SendAsync("PUT", saved.Location!, Saved(other), ("If-Match", "\"99\""))).Status);
        var changed = await api.SendAsync("PUT", saved.Location!, Saved(other), ("If-Match", feed.ETag!));
        Assert.Equal(HttpStatusCode.OK, changed.Status);
        Assert.Equal("cm", changed.Json.GetProperty("description").GetProperty("series").GetProperty("rain").GetProperty("unit").GetProperty("code").GetString());
        Assert.InRange(workshop.Server.Requests.Count, before, before + 1);

        Assert.Equal(HttpStatusCode.NoContent, (await api.SendAsync("DELETE", saved.Location!, null)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await api.GetAsync(saved.Location!)).Status);
    }

    [Fact]
    public async Task Two_feeds_of_one_description_get_short_names_of_their_own()
    {
        using var api = new ApiClient(workshop.Service);
        var keys = new List<string>();
        for (var i = 0; i < 2; i++)
            keys.Add((await api.SendAsync("POST", "/api/v1/feeds", Saved(await workshop.TryAsync(api, Named("twin-brook"))))).Json.GetProperty("key").GetString()!);
        Assert.Equal(["twin-brook", "twin-brook-2"], keys);
    }

    [Fact]
    public async Task A_feed_whose_weather_is_kept_stays()
    {
        using var api = new ApiClient(workshop.Service);
        var refused = await api.SendAsync("DELETE", $"/api/v1/feeds/{workshop.Service.Invented.Feed}", null);
        Assert.Equal(HttpStatusCode.Conflict, refused.Status);
        Assert.Contains("Alder Lane, Mill Field", refused.Json.GetProperty("detail").GetString()!, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("POST", "/api/v1/feeds", """{"draftId":"nothing"}""", 400, "draftId")]
    [InlineData("POST", "/api/v1/feeds", """{"draftId":"00000000-0000-0000-0000-000000000001"}""", 400, "draftId")]
    [InlineData("POST", "/api/v1/feeds", """{"draftId":"00000000-0000-0000-0000-000000000001","fills":["roof"]}""", 400, "fills")]
    [InlineData("POST", "/api/v1/feeds", """{"draftId":"00000000-0000-0000-0000-000000000001","fills":["station","station"]}""", 400, "fills")]
    [InlineData("PUT", "/api/v1/feeds/999", """{"draftId":"00000000-0000-0000-0000-000000000001"}""", 404, null)]
    [InlineData("DELETE", "/api/v1/feeds/999", null, 404, null)]
    [InlineData("POST", "/api/v1/feed-trials", """{"siteId":999,"presetId":"open-meteo-hourly"}""", 400, "siteId")]
    [InlineData("POST", "/api/v1/feed-trials", """{"siteId":1,"presetId":"nothing"}""", 400, "presetId")]
    [InlineData("POST", "/api/v1/feed-trials", """{"siteId":1}""", 400, "presetId")]
    [InlineData("POST", "/api/v1/feed-trials", """{"siteId":1,"feedId":999}""", 400, "feedId")]
    [InlineData("POST", "/api/v1/feed-trials", """{"siteId":1,"description":7}""", 400, "description")]
    [InlineData("POST", "/api/v1/feed-trials", """{"siteId":1,"description":"no json"}""", 400, "description")]
    [InlineData("POST", "/api/v1/feed-trials", """{"siteId":1,"presetId":"station-daily-csv","title":1}""", 400, "title")]
    [InlineData("GET", "/api/v1/feed-trials/00000000-0000-0000-0000-000000000001", null, 404, null)]
    [InlineData("POST", "/api/v1/feed-trials/00000000-0000-0000-0000-000000000001/fetch", null, 404, null)]
    public async Task What_cannot_be_taken_is_refused_by_field(string method, string path, string? body, int status, string? field)
    {
        using var api = new ApiClient(workshop.Service);
        var answer = await api.SendAsync(method, path, body);
        Assert.Equal((HttpStatusCode)status, answer.Status);
        Assert.Equal("application/problem+json", answer.Form);
        if (field is not null)
            Assert.Contains(field, answer.Refused);
    }

    private JsonObject Named(string id)
    {
        var named = workshop.Description();
        named["id"] = id;
        return named;
    }

    private static string Saved(ApiAnswer trial) => $$"""{"draftId":"{{trial.Json.GetProperty("id").GetString()}}"}""";
}
