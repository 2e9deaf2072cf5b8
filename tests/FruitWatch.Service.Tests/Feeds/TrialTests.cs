using System.Net;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Feeds;

public sealed class TrialTests(FeedWorkshop workshop) : IClassFixture<FeedWorkshop>
{
    [Fact]
    public async Task A_trial_tells_each_value_with_its_coverage_and_what_the_answer_had_and_what_is_unknown()
    {
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        var asked = workshop.Server.Requests.Count;
        var made = await workshop.TryAsync(api, workshop.Description());

        Assert.Equal(HttpStatusCode.Created, made.Status);
        Assert.Equal(asked + 1, workshop.Server.Requests.Count);
        var trial = made.Json;
        Assert.True(trial.GetProperty("good").GetBoolean());
        Assert.True(trial.GetProperty("justAsked").GetBoolean());
        Assert.EndsWith("/days?lat=43.2000&ahead=7", trial.GetProperty("asked").GetString(), StringComparison.Ordinal);
        Assert.Equal(6, trial.GetProperty("daysFound").GetInt32());
        var third = trial.GetProperty("days")[2];
        Assert.Equal("2026-10-16", third.GetProperty("date").GetString());
        Assert.Equal("forecast", third.GetProperty("from").GetString());
        Assert.Equal(15.5, third.GetProperty("tmaxC").GetProperty("value").GetDouble());
        Assert.Equal("15.5", Assert.Single(third.GetProperty("tmaxC").GetProperty("raw").EnumerateArray()).GetProperty("text").GetString());
        Assert.Equal(1, third.GetProperty("tmaxC").GetProperty("coverage").GetDouble());
        Assert.Equal(JsonValueKind.Null, third.GetProperty("rainMm").ValueKind);
        Assert.StartsWith("{\"daily\"", trial.GetProperty("head").GetString(), StringComparison.Ordinal);
        Assert.Equal("CC BY 4.0", trial.GetProperty("attribution").GetProperty("licence").GetString());
        Assert.Equal(made.Text.Replace("\"justAsked\":true", "\"justAsked\":false", StringComparison.Ordinal), (await api.GetAsync(made.Location!)).Text);
    }

    [Fact]
    public async Task A_changed_description_is_tried_on_the_answer_that_is_there_and_the_feed_sees_one_request()
    {
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        var before = workshop.Server.Requests.Count;
        var made = await workshop.TryAsync(api, workshop.Description());
        var inches = workshop.Description();
        inches["series"]!["rain"]!["unit"]!["code"] = "cm";
        var changed = await api.SendAsync("PUT", made.Location!, new JsonObject { ["description"] = inches.DeepClone() }.ToJsonString());

        Assert.Equal(HttpStatusCode.OK, changed.Status);
        Assert.False(changed.Json.GetProperty("justAsked").GetBoolean());
        Assert.False(changed.Json.GetProperty("requestChanged").GetBoolean());
        Assert.Equal(24, changed.Json.GetProperty("days")[1].GetProperty("rainMm").GetProperty("value").GetDouble(), 1e-9);
        Assert.Equal(before + 1, workshop.Server.Requests.Count);

        inches["request"]!["url"] = workshop.Description("/elsewhere?lat={latitude}")["request"]!["url"]!.DeepClone();
        var moved = await api.SendAsync("PUT", made.Location!, new JsonObject { ["description"] = inches.DeepClone() }.ToJsonString());
        Assert.True(moved.Json.GetProperty("requestChanged").GetBoolean());
        Assert.False(moved.Json.GetProperty("good").GetBoolean());
        Assert.Equal(before + 1, workshop.Server.Requests.Count);
        var again = await api.SendAsync("POST", made.Location + "/fetch", null);
        Assert.True(again.Json.GetProperty("good").GetBoolean());
        Assert.StartsWith("/elsewhere", workshop.Server.Requests[^1].Address, StringComparison.Ordinal);
    }

    /// <summary>What the server gives, and the code under which it is refused.</summary>
    [Theory]
    [InlineData(200, "text/html", "<html>sign in</html>", "body.notExpectedType")]
    [InlineData(200, "application/json", "{\"daily\":", "parse.invalidJson")]
    [InlineData(200, "application/json", "{\"daily\":{\"time\":[],\"high\":[],\"low\":[],\"rain\":[]}}", "data.empty")]
    [InlineData(200, "application/json", "{\"weekly\":{}}", "shape.missing")]
    [InlineData(403, "application/json", "{}", "http.forbidden")]
    [InlineData(404, "application/json", "{}", "http.notFound")]
    public async Task A_refusal_is_told_with_code_place_and_what_to_do_and_cannot_be_saved(int status, string type, string body, string code)
    {
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, context =>
        {
            (context.Response.StatusCode, context.Response.ContentType) = (status, type);
            return context.Response.WriteAsync(body);
        });
        var trial = await workshop.TryAsync(api, workshop.Description());
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());

        Assert.Equal(HttpStatusCode.Created, trial.Status);
        var refusal = trial.Json.GetProperty("refusal");
        Assert.Equal(code, refusal.GetProperty("code").GetString());
        Assert.NotEmpty(refusal.GetProperty("place").GetString()!);
        Assert.NotEmpty(refusal.GetProperty("mend").GetString()!);
        if (status == 200)
            Assert.Equal(body, trial.Json.GetProperty("head").GetString());
        Assert.False(trial.Json.GetProperty("good").GetBoolean());
        var saved = await api.SendAsync("POST", "/api/v1/feeds", $$"""{"draftId":"{{trial.Json.GetProperty("id").GetString()}}"}""");
        Assert.Equal(HttpStatusCode.Conflict, saved.Status);
        Assert.Contains("seen to give days", saved.Json.GetProperty("detail").GetString()!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_description_is_told_by_pointer_and_nothing_is_asked()
    {
        using var api = new ApiClient(workshop.Service);
        var before = workshop.Server.Requests.Count;
        var wrong = workshop.Description();
        wrong["series"]!["rain"]!["unit"]!["code"] = "buckets";
        wrong["provides"] = "hope";
        var answer = await workshop.TryAsync(api, wrong);
        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Contains("description/provides", answer.Refused);
        Assert.Contains("description/series/rain/unit/code", answer.Refused);
        Assert.Equal(before, workshop.Server.Requests.Count);
    }

    [Fact]
    public async Task An_address_that_is_not_on_the_open_internet_is_refused_unless_the_operator_allows_it()
    {
        using var api = new ApiClient(workshop.Service);
        var inner = workshop.Description();
        inner["request"]!["url"] = "https://127.0.0.1/latest";
        Assert.Equal(["description/request/url"], (await workshop.TryAsync(api, inner)).Refused);
        inner["request"]!["url"] = "http://127.0.0.1:9/latest";
        Assert.Equal(["description/request/url"], (await workshop.TryAsync(api, inner)).Refused);
    }

    [Fact]
    public async Task The_key_is_sent_and_is_in_no_answer_page_log_or_plain_row()
    {
        const string secret = "k3y-of-the-br00k";
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, async context =>
        {
            var days = FeedWorkshop.Days();
            days["echo"] = context.Request.QueryString.ToString();
            context.Response.ContentType = "application/json";
            await context.Response.WriteAsync(days.ToJsonString());
        });
        var made = await workshop.TryAsync(api, workshop.Keyed(), secret);
        Assert.Contains(secret, workshop.Server.Requests[^1].Address, StringComparison.Ordinal);
        Assert.True(made.Json.GetProperty("hasKey").GetBoolean());
        using var browser = workshop.Service.Browser();
        var page = await browser.GetStringAsync($"/feeds/trials/{made.Json.GetProperty("id").GetString()}");
        var saved = await api.SendAsync("POST", "/api/v1/feeds", $$"""{"draftId":"{{made.Json.GetProperty("id").GetString()}}"}""");
        Assert.Equal(HttpStatusCode.Created, saved.Status);
        var told = new[] { made.Text, page, saved.Text, (await api.GetAsync(saved.Location!)).Text, await browser.GetStringAsync("/feeds"), string.Join('\n', workshop.Service.Faults.Told) };
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());

        Assert.All(told, text => Assert.DoesNotContain(secret, text, StringComparison.Ordinal));
        await using var store = workshop.Service.Store();
        var row = store.Feeds.Single(feed => feed.Id == saved.Json.GetProperty("id").GetInt64());
        Assert.NotNull(row.SealedKey);
        Assert.DoesNotContain(secret, row.SealedKey, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_key_does_not_follow_the_description_to_another_host()
    {
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        var made = await workshop.TryAsync(api, workshop.Keyed(), "s3cret-of-brook");
        var thief = workshop.Keyed();
        thief["request"]!["url"] = "https://thief.example/?key={key}";
        var moved = await api.SendAsync("PUT", made.Location!, new JsonObject { ["description"] = thief }.ToJsonString());
        Assert.True(moved.Json.GetProperty("keyDropped").GetBoolean());
        Assert.False(moved.Json.GetProperty("hasKey").GetBoolean());
        Assert.Contains("key", moved.Json.GetProperty("needs").EnumerateArray().Select(need => need.GetString()));
    }

    [Fact]
    public async Task An_answer_from_far_away_or_another_height_is_warned_of()
    {
        using var api = new ApiClient(workshop.Service);
        var far = FeedWorkshop.Days();
        (far["latitude"], far["longitude"], far["elevation"]) = (43.4, -3.1, 700);
        workshop.Server.Answer(0, () => far.ToJsonString());
        var warnings = (await workshop.TryAsync(api, workshop.Description())).Json.GetProperty("warnings").EnumerateArray().ToList();
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        Assert.Equal(["place.far", "place.height"], warnings.Select(warning => warning.GetProperty("code").GetString()));
        Assert.Contains("22\u00a0km", warnings[0].GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Contains("580\u00a0m", warnings[1].GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Mild_fahrenheit_is_asked_about_with_the_change_that_mends_it()
    {
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, () => FeedWorkshop.Days(c => 32 + 1.8 * (c - 2.3)).ToJsonString());
        var made = await workshop.TryAsync(api, workshop.Description());
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        var question = made.Json.GetProperty("question");
        Assert.True(question.ValueKind == JsonValueKind.Object, made.Text);
        var id = made.Json.GetProperty("id").GetString();
        var unsure = await api.SendAsync("POST", "/api/v1/feeds", $$"""{"draftId":"{{id}}"}""");
        Assert.Equal(HttpStatusCode.Conflict, unsure.Status);

        Assert.Equal("/series/high/unit/code", question.GetProperty("pointer").GetString());
        var changed = await api.SendAsync("PUT", made.Location!, $$"""{"description":{{question.GetProperty("mended").GetRawText()}}}""");
        Assert.True(changed.Json.GetProperty("good").GetBoolean(), changed.Text);
        Assert.InRange(changed.Json.GetProperty("days")[0].GetProperty("tmaxC").GetProperty("value").GetDouble(), 5, 20);
        Assert.InRange(changed.Json.GetProperty("days")[0].GetProperty("tminC").GetProperty("value").GetDouble(), -5, 10);
    }

    [Fact]
    public async Task Ten_feeds_a_minute_are_asked_for_a_look_and_no_more()
    {
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        var made = await workshop.TryAsync(api, workshop.Description());
        for (var i = 1; i < TrialPace.Most; i++)
            Assert.Equal(HttpStatusCode.OK, (await api.SendAsync("POST", made.Location + "/fetch", null)).Status);
        var before = workshop.Server.Requests.Count;
        var refused = await api.SendAsync("POST", made.Location + "/fetch", null);
        Assert.Equal(HttpStatusCode.TooManyRequests, refused.Status);
        Assert.Equal("urn:fruitwatch:problem:too-often", refused.Json.GetProperty("type").GetString());
        Assert.Equal(before, workshop.Server.Requests.Count);
        Assert.Equal(HttpStatusCode.OK, (await api.GetAsync(made.Location!)).Status);
        workshop.Time.Advance(TimeSpan.FromSeconds(61));
        Assert.Equal(HttpStatusCode.OK, (await api.SendAsync("POST", made.Location + "/fetch", null)).Status);
    }

    [Fact]
    public async Task A_file_is_handed_in_looked_at_saved_and_kept_for_the_mornings()
    {
        using var api = new ApiClient(workshop.Service);
        var made = await api.SendAsync("POST", "/api/v1/feed-trials", $$"""{"siteId":{{workshop.Service.Invented.MillField}},"presetId":"station-daily-csv"}""");
        Assert.Equal(["file"], made.Json.GetProperty("needs").EnumerateArray().Select(need => need.GetString()));
        const string file = "date,tmax_c,tmin_c,rain_mm\n2026-10-08,17,7,0\n2026-10-09,18,8,1.5\n2026-10-10,18,8,0\n2026-10-12,=HYPERLINK(1),7,<b>3</b>\n2026-10-13,15,6,2.5\n";
        using var http = workshop.Service.Client();
        using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(file));
        content.Headers.ContentType = new("text/csv");
        using var put = await http.PutAsync(made.Location + "/file?name=../../shed.csv", content);
        var trial = JsonDocument.Parse(await put.Content.ReadAsStringAsync()).RootElement;

        Assert.Equal("shed.csv", trial.GetProperty("asked").GetString());
        Assert.True(trial.GetProperty("good").GetBoolean());
        Assert.Equal("2026-10-11", Assert.Single(trial.GetProperty("gaps").EnumerateArray()).GetProperty("first").GetString());
        Assert.Contains(trial.GetProperty("notes").EnumerateArray(), note => note.GetProperty("code").GetString() == "value.notNumber");

        var saved = await api.SendAsync("POST", "/api/v1/feeds", $$"""{"draftId":"{{trial.GetProperty("id").GetString()}}","fills":["station"]}""");
        Assert.Equal(HttpStatusCode.Created, saved.Status);
        Assert.Equal("station", Assert.Single(saved.Json.GetProperty("usedBy").EnumerateArray()).GetProperty("slot").GetString());
        var options = workshop.Service.Services.GetRequiredService<FruitWatch.Service.Operating.ServiceOptions>();
        Assert.Equal(file, await File.ReadAllTextAsync(Path.Combine(options.FeedFolder(workshop.Service.Invented.Cooperative), saved.Json.GetProperty("key").GetString() + ".csv")));
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("DELETE", saved.Location!, null)).Status);
    }

    [Fact]
    public async Task Drafts_of_more_than_a_day_are_refused_and_thrown_away()
    {
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        var made = await workshop.TryAsync(api, workshop.Description());
        var id = made.Json.GetProperty("id").GetGuid();
        workshop.Clock.Advance(Duration.FromHours(25));
        try
        {
            Assert.Equal(HttpStatusCode.NotFound, (await api.GetAsync(made.Location!)).Status);
            var saved = await api.SendAsync("POST", "/api/v1/feeds", $$"""{"draftId":"{{id}}"}""");
            Assert.Equal(HttpStatusCode.Conflict, saved.Status);
            Assert.Contains("more than a day old", saved.Json.GetProperty("detail").GetString()!, StringComparison.Ordinal);
            await workshop.Service.Services.GetRequiredService<FeedDrafts>().ClearAsync(TestContext.Current.CancellationToken);
            await using var store = workshop.Service.Store();
            Assert.DoesNotContain(store.FeedDrafts, draft => draft.Id == id);
        }
        finally
        {
            workshop.Clock.Reset(InventedCooperative.Now);
        }
    }
}
