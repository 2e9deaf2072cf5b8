using System.Text.Json;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Webhooks;

/// <summary>What is told, to whom, and that it stands or falls with what happened.</summary>
public sealed class HappeningTests
{
    private static string Bed(long site, string name = "Told bed") => $$"""
        {"siteId":{{site}},"name":"{{name}}","speciesKey":"wine-cap","areaM2":4,"inoculatedOn":"2026-05-01","layers":[{"materialKey":"hardwood-chips","depthM":0.12}]}
        """;

    [Fact]
    public async Task Beds_made_and_changed_and_entries_made_corrected_and_undone_are_told()
    {
        await using var run = await HookRun.StartAsync();
        await run.AddAsync();
        using var api = new ApiClient(run.Service);
        var bed = await api.SendAsync("POST", "/api/v1/beds", Bed(run.Service.Invented.AlderLane));
        Assert.True(bed.Location is not null, bed.Text);
        await api.SendAsync("PUT", bed.Location, Bed(run.Service.Invented.AlderLane, "Renamed"));
        var entry = await api.SendAsync("POST", $"{bed.Location}/log", """{"kind":"pins","on":"2026-10-10"}""");
        var corrected = await api.SendAsync("PUT", entry.Location!, """{"kind":"pins","on":"2026-10-11"}""");
        await api.SendAsync("DELETE", $"{bed.Location}/log/{corrected.Json.GetProperty("id").GetInt64()}", null);

        var told = (await run.DeliveriesAsync()).Where(row => !row.Event.StartsWith("notice.", StringComparison.Ordinal)).ToList();
        Assert.Equal(
            ["bed.made", "bed.changed", "log-entry.made", "log-entry.made", "log-entry.undone", "log-entry.undone"],
            told.Select(row => row.Event).OrderBy(name => Array.IndexOf(["bed.made", "bed.changed", "log-entry.made", "log-entry.undone"], name)));
        var made = JsonDocument.Parse(told.Single(row => row.Event == "bed.made").Body).RootElement;
        Assert.Equal("2026-10-14T06:30:00Z", made.GetProperty("timestamp").GetString());
        Assert.Equal(bed.Location, made.GetProperty("data").GetProperty("resource").GetString());
        Assert.Equal(run.Service.Invented.AlderLane, made.GetProperty("data").GetProperty("siteId").GetInt64());
        // Thin: nothing that anybody wrote.
        Assert.DoesNotContain(told, row => row.Body.Contains("bed\"", StringComparison.Ordinal) || row.Body.Contains("Renamed", StringComparison.Ordinal));
        Assert.Equal(System.Net.HttpStatusCode.OK, (await api.GetAsync(bed.Location)).Status);
    }

    [Fact]
    public async Task Only_those_that_asked_and_that_are_on_and_of_the_same_cooperative_are_told()
    {
        await using var run = await HookRun.StartAsync();
        var (asked, _) = await run.AddAsync(null, WebhookEvents.BedMade);
        await run.AddAsync(null, WebhookEvents.NoticeOpened, WebhookEvents.LogEntryMade);
        var (off, _) = await run.AddAsync(null, WebhookEvents.BedMade);
        await using (var store = run.Service.Store())
        {
            await store.Webhooks.Where(row => row.Id == off.Id).ExecuteUpdateAsync(set => set.SetProperty(row => row.Active, false), TestContext.Current.CancellationToken);
            var other = new Cooperative { Name = "Others" };
            store.Add(other);
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
            store.Add(new Webhook { CooperativeId = other.Id, Name = "Others", Address = run.Receiver.Address, Events = "bed.made", SealedSecret = "x", MadeAt = run.Clock.GetCurrentInstant() });
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        using var api = new ApiClient(run.Service);
        await api.SendAsync("POST", "/api/v1/beds", Bed(run.Service.Invented.AlderLane));
        Assert.Equal(asked.Id, Assert.Single(await run.DeliveriesAsync()).WebhookId);
    }

    [Fact]
    public async Task A_round_tells_of_itself_and_of_its_notices_once_and_a_notice_that_the_log_closes_is_told_at_once()
    {
        await using var run = await HookRun.StartAsync();
        await run.AddAsync();
        await using (var store = run.Service.Store())
            await store.Mornings.ExecuteDeleteAsync(TestContext.Current.CancellationToken);
        var round = run.Service.Services.GetRequiredService<MorningRound>();
        var due = new DueMorning(run.Service.Invented.AlderLane, InventedCooperative.Today, false);
        Assert.True(await round.RunAsync(due, default));
        Assert.False(await round.RunAsync(due, default));

        var told = await run.DeliveriesAsync();
        var done = Assert.Single(told, row => row.Event == WebhookEvents.RoundDone);
        Assert.Contains("\"on\":\"2026-10-14\"", done.Body, StringComparison.Ordinal);
        await using (var store = run.Service.Store())
        {
            var opened = await store.Notices.CountAsync(row => row.SiteId == run.Service.Invented.AlderLane && row.IssuedAt == run.Clock.GetCurrentInstant() && row.FirstOn == InventedCooperative.Today, TestContext.Current.CancellationToken);
            Assert.Equal(opened, told.Count(row => row.Event == WebhookEvents.NoticeOpened));
            Assert.Contains(told, row => row.Event.StartsWith("notice.", StringComparison.Ordinal));
        }

        using var api = new ApiClient(run.Service);
        foreach (var row in told.Where(row => row.Event.StartsWith("notice.", StringComparison.Ordinal)))
        {
            var data = JsonDocument.Parse(row.Body).RootElement.GetProperty("data");
            var notice = await api.GetAsync(data.GetProperty("resource").GetString()!);
            Assert.Equal(data.GetProperty("noticeId").GetInt64(), notice.Json.GetProperty("id").GetInt64());
        }
    }

    /// <summary>Common practice, no source: told twice in two transactions is told once.</summary>
    [Fact]
    public async Task The_same_happening_written_twice_is_told_once_and_one_that_is_rolled_back_never()
    {
        await using var run = await HookRun.StartAsync();
        await run.AddAsync();
        var happening = new Happening(WebhookEvents.RoundDone, "1/2026-10-14", "sites/1");
        await using var store = run.Service.Store();
        Assert.Equal(1, await WebhookEvents.AddAsync(store, run.Clock.GetCurrentInstant(), run.Service.Invented.Cooperative, [happening]));
        Assert.Equal(0, await WebhookEvents.AddAsync(store, run.Clock.GetCurrentInstant() + Duration.FromHours(1), run.Service.Invented.Cooperative, [happening]));
        await using (await store.Database.BeginTransactionAsync(TestContext.Current.CancellationToken))
            Assert.Equal(1, await WebhookEvents.AddAsync(store, run.Clock.GetCurrentInstant(), run.Service.Invented.Cooperative, [happening with { Once = "2" }]));
        Assert.Single(await run.DeliveriesAsync());
    }
}
