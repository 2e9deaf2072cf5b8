using System.Text;
using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Weather;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Api.Contract;

/// <summary>What the examples need beside the invented cooperative: a site with a station file in doubt, another file, and an archive.</summary>
internal static class ExampleScene
{
    private const string File = "date,tmax_c,tmin_c,rain_mm\n2026-10-10,18.2,7.1,0.4\n2026-10-11,17.0,6.5,0\n2026-10-12,16.1,4.9,12.6\n2026-10-13,15.4,5.2,1.8\n";

    public static async Task<TestService> StartAsync()
    {
        var service = await TestService.StartAsync();
        await using var store = service.Store();
        var (archive, station, shed) = (Feed("valley-archive", "open-meteo-archive"), Feed("terrace-station", "station-daily-csv"), Feed("lower-shed", "station-daily-csv"));
        store.Feeds.AddRange(archive, station, shed);
        await store.SaveChangesAsync();
        var site = new Site
        {
            CooperativeId = service.Invented.Cooperative,
            Name = "Upper Terrace",
            Latitude = 43.21,
            Longitude = -3.12,
            Elevation = 210,
            ZoneId = "Europe/Madrid",
            HistoryFeedId = archive.Id,
            StationFeedId = station.Id,
            ForecastFeedId = shed.Id,
        };
        store.Sites.Add(site);
        await store.SaveChangesAsync();
        var now = InventedCooperative.Now;
        store.SiteFeeds.Add(new SiteFeed
        {
            SiteId = site.Id,
            FeedId = station.Id,
            FirstTriedAt = now,
            LastTriedAt = now,
            NextTryAt = now,
            FailuresInARow = 1,
            Question = """{"text":"The highest temperatures lie 17 °C above what is usual here. Are they in °F?","fits":"[degF]","pointer":"/series/tmax/unit/code","value":"\"[degF]\""}""",
        });
        var webhook = new Webhook
        {
            CooperativeId = service.Invented.Cooperative,
            Name = "Screen in the barn",
            Address = "https://example.org/barn",
            Events = "notice.opened notice.closed",
            SealedSecret = "",
            MadeAt = now - Duration.FromDays(3),
        };
        store.Webhooks.Add(webhook);
        await store.SaveChangesAsync();
        store.WebhookDeliveries.Add(new WebhookDelivery
        {
            CooperativeId = service.Invented.Cooperative,
            WebhookId = webhook.Id,
            MessageId = "msg_5f1d0c7a92b84e63d10f7c29a4be85d36720fa1c",
            Event = "notice.opened",
            Body = """{"type":"notice.opened","timestamp":"2026-10-13T04:00:09Z","data":{"cooperativeId":1,"siteId":1,"bedId":1,"noticeId":1,"resource":"/api/v1/notices/1"}}""",
            State = DeliveryState.Delivered,
            Attempts = 1,
            NextTryAt = now - Duration.FromDays(1),
            MadeAt = now - Duration.FromDays(1),
            DeliveredAt = now - Duration.FromDays(1),
            LastStatus = 204,
        });
        store.FeedDrafts.Add(new FeedDraft
        {
            Id = new Guid("a7e4c0d2-3b51-4f08-8a6d-90c2f1b7e635"),
            CooperativeId = service.Invented.Cooperative,
            FeedId = shed.Id,
            SiteId = site.Id,
            Title = "Lower shed",
            Description = shed.Description,
            Asked = "shed.csv",
            MediaType = "text/csv",
            Body = FeedAnswers.Pack(Encoding.UTF8.GetBytes(File)),
            FetchedAt = now,
            Good = true,
            MadeAt = now,
        });
        await store.SaveChangesAsync();
        var options = service.Services.GetRequiredService<ServiceOptions>();
        Directory.CreateDirectory(options.FeedFolder(service.Invented.Cooperative));
        foreach (var feed in new[] { station, shed })
            await System.IO.File.WriteAllTextAsync(options.FeedFile(feed), File);
        return service;

        Feed Feed(string key, string preset) => new()
        {
            CooperativeId = service.Invented.Cooperative,
            Key = key,
            Title = key,
            // To a host that is never found: no test asks a stranger.
            Description = FeedPresets.Find(preset)!.Json.Replace("archive-api.open-meteo.com", "archive.invalid", StringComparison.Ordinal),
        };
    }
}
