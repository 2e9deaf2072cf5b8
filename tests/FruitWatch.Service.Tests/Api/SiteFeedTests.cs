using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Api;

public sealed class SiteFeedTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_health_of_a_sites_feeds_is_told_slot_by_slot()
    {
        await using var service = await TestService.StartAsync();
        using var client = service.Client();
        var lane = service.Invented.AlderLane;
        var fresh = await client.GetFromJsonAsync<JsonElement>($"/api/v1/sites/{lane}/feeds", Stop);
        var feed = fresh.GetProperty("items")[0];
        Assert.Equal(("forecast", "not-asked"), (feed.GetProperty("slot").GetString(), feed.GetProperty("state").GetString()));
        Assert.Equal("Weather by the invented Hill Station", feed.GetProperty("credit").GetProperty("text").GetString());

        await using (var store = service.Store())
        {
            store.SiteFeeds.Add(new SiteFeed
            {
                SiteId = lane,
                FeedId = service.Invented.Feed,
                FirstTriedAt = InventedCooperative.Now - Duration.FromDays(9),
                LastGoodAt = InventedCooperative.Now - Duration.FromDays(3),
                LastTriedAt = InventedCooperative.Now,
                NextTryAt = InventedCooperative.Now + Duration.FromHours(3),
                ProblemCode = "http.serverError",
                Problem = "The server <b>failed</b>.",
                Evidence = """{"status":503,"mediaType":"text/html","bytes":12,"head":"<p>down</p>"}""",
                Notes = """[{"code":"time.gap","sentence":"A day is missing.","place":"/daily","count":2}]""",
                FailuresInARow = 4,
            });
            await store.SaveChangesAsync(Stop);
        }

        var told = (await client.GetFromJsonAsync<JsonElement>($"/api/v1/sites/{lane}/feeds", Stop)).GetProperty("items")[0];
        Assert.Equal("failing", told.GetProperty("state").GetString());
        Assert.Equal(72, told.GetProperty("ageHours").GetDouble());
        Assert.Equal(503, told.GetProperty("evidence").GetProperty("status").GetInt32());
        Assert.Equal("time.gap", told.GetProperty("notes")[0].GetProperty("code").GetString());
        Assert.Equal("2026-10-11T06:30:00Z", told.GetProperty("silentSince").GetString());
        // The first page says it too, in the language of whoever reads it.
        var page = await client.GetStringAsync("/", Stop);
        Assert.Contains("Hill Station: nothing that could be used since Sun 11 October", WebUtility.HtmlDecode(page), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_be_done_about_a_feed_is_refused_with_the_reason()
    {
        await using var service = await TestService.StartAsync();
        using var client = service.Client();
        var (lane, feed) = (service.Invented.AlderLane, service.Invented.Feed);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync("/api/v1/sites/999/feeds", Stop)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync("/api/v1/sites/999/climate", Stop)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.PostAsync($"/api/v1/sites/{lane}/feeds/999/ask-now", null, Stop)).StatusCode);
        Assert.Equal(HttpStatusCode.Conflict, (await client.PostAsync($"/api/v1/sites/{lane}/feeds/{feed}/confirm-units", null, Stop)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/api/v1/sites/{lane}/feeds/{feed}/backfill", Stop)).StatusCode);
        Assert.Equal(HttpStatusCode.BadRequest, (await client.PutAsJsonAsync($"/api/v1/sites/{lane}/feeds/{feed}/backfill", new { firstDay = "1950-01-01" }, Stop)).StatusCode);
        Assert.Equal(HttpStatusCode.Conflict, (await client.PutAsJsonAsync($"/api/v1/sites/{lane}/feeds/{feed}/backfill", new { }, Stop)).StatusCode);
        // Its description is none: asking tells so, and a second time within a minute nothing is asked.
        var asked = await client.PostAsync($"/api/v1/sites/{lane}/feeds/{feed}/ask-now", null, Stop);
        Assert.Equal("waiting", (await asked.Content.ReadFromJsonAsync<JsonElement>(Stop)).GetProperty("state").GetString());
        Assert.Equal(HttpStatusCode.Conflict, (await client.PostAsync($"/api/v1/sites/{lane}/feeds/{feed}/ask-now", null, Stop)).StatusCode);
    }

    [Fact]
    public async Task A_sites_climate_is_told_by_month()
    {
        await using var service = await TestService.StartAsync();
        using var client = service.Client();
        var climate = await client.GetFromJsonAsync<JsonElement>($"/api/v1/sites/{service.Invented.MillField}/climate", Stop);
        var months = climate.GetProperty("months").EnumerateArray().ToList();
        Assert.Equal(12, months.Count);
        Assert.True(months[6].GetProperty("tmaxC").GetDouble() > months[0].GetProperty("tmaxC").GetDouble() + 8);
        Assert.InRange(months[6].GetProperty("temperatureYears").GetInt32(), 3, 4);
        Assert.Equal("forecast-past", climate.GetProperty("sources")[0].GetProperty("kind").GetString());
    }

    [Fact]
    public async Task A_station_feed_is_set_at_the_site_and_needs_its_station()
    {
        await using var service = await TestService.StartAsync();
        using var client = service.Client();
        await using (var store = service.Store())
        {
            var preset = FruitWatch.Feeds.FeedPresets.All.Single(known => known.Id == "ghcn-access-csv");
            store.Feeds.Add(new Feed { CooperativeId = 1, Key = "ghcn", Title = "GHCN", Description = preset.Json });
            await store.SaveChangesAsync(Stop);
        }

        object Site(string? station) => new { name = "Lane", latitudeDeg = 43.2, longitudeDeg = -3.1, zoneId = "Europe/Madrid", stationFeedId = 2, station };
        client.DefaultRequestHeaders.Add("If-Match", "\"1\"");
        var refused = await client.PutAsJsonAsync($"/api/v1/sites/{service.Invented.AlderLane}", Site(null), Stop);
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        Assert.Contains("asked by station", await refused.Content.ReadAsStringAsync(Stop), StringComparison.Ordinal);
        var set = await client.PutAsJsonAsync($"/api/v1/sites/{service.Invented.AlderLane}", Site("ZZ000000001"), Stop);
        var site = await set.Content.ReadFromJsonAsync<JsonElement>(Stop);
        Assert.Equal((2, "ZZ000000001"), (site.GetProperty("stationFeedId").GetInt32(), site.GetProperty("station").GetString()));
    }
}
