using FruitWatch.Feeds;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Mornings;

/// <summary>Clocks that jump, machines that sleep, services that were stopped: each morning once, none for the days that were missed.</summary>
public sealed class ClockTests
{
    private static readonly DateTimeZone s_zone = DateTimeZoneProviders.Tzdb["Europe/Madrid"];
    private static readonly LocalDate s_day = InventedCooperative.Today.PlusDays(1);

    [Fact]
    public async Task A_clock_that_jumps_and_a_machine_that_sleeps_double_nothing_and_lose_nothing()
    {
        await using var service = await StartAsync();
        // Before the morning; two hours on; two hours back; again; asleep for eight hours.
        Assert.Equal((0, 0), await StepAsync(service, s_day.At(new LocalTime(5, 50))));
        Assert.Equal((2, 1), await StepAsync(service, s_day.At(new LocalTime(7, 50))));
        Assert.Equal((0, 0), await StepAsync(service, s_day.At(new LocalTime(5, 50))));
        Assert.Equal((0, 0), await StepAsync(service, s_day.At(new LocalTime(6, 5))));
        Assert.Equal((0, 0), await StepAsync(service, s_day.At(new LocalTime(14, 5))));
        // Back over midnight into a day that is over, and forth again.
        Assert.Equal((2, 1), await StepAsync(service, s_day.PlusDays(1).At(new LocalTime(6, 5))));
        Assert.Equal((0, 0), await StepAsync(service, s_day.At(new LocalTime(23, 50))));
        Assert.Equal((0, 0), await StepAsync(service, s_day.PlusDays(1).At(new LocalTime(9, 0))));
    }

    [Fact]
    public async Task After_a_stop_of_three_days_there_is_one_round_and_one_mail_and_none_for_the_days_before()
    {
        await using var service = await StartAsync();
        Assert.Equal((2, 1), await StepAsync(service, s_day.At(new LocalTime(6, 10))));
        Assert.Equal((2, 1), await StepAsync(service, s_day.PlusDays(4).At(new LocalTime(7, 0))));
        await using var store = service.Store();
        Assert.Equal([s_day, s_day.PlusDays(4)], await store.Mornings.Where(m => m.On >= s_day).Select(m => m.On).Distinct().Order().ToListAsync());
    }

    [Fact]
    public async Task A_start_soon_after_the_hour_makes_it_up_and_one_long_after_says_that_it_is_late()
    {
        await using var service = await StartAsync();
        Assert.Equal((2, 1), await StepAsync(service, s_day.At(new LocalTime(6, 10))));
        await using var store = service.Store();
        Assert.Contains("Good morning", await LastAsync(service), StringComparison.Ordinal);
        Assert.Equal((2, 1), await StepAsync(service, s_day.PlusDays(1).At(new LocalTime(11, 1))));
        Assert.True(await store.Mornings.Where(m => m.On == s_day.PlusDays(1)).AllAsync(m => m.Late));
        var late = await LastAsync(service);
        Assert.DoesNotContain("morning,", late, StringComparison.Ordinal);
        Assert.Contains("later than it should", late, StringComparison.Ordinal);
    }

    private static async Task<TestService> StartAsync()
    {
        var service = await TestService.StartAsync();
        await using var store = service.Store();
        (await store.Feeds.SingleAsync()).Description = FeedPresets.Find("station-daily-csv")!.Json;
        await store.Outbox.ExecuteDeleteAsync();
        var person = new Person { CooperativeId = service.Invented.Cooperative, Name = "Told", Email = "told@example.org", Role = Role.Viewer };
        person.Sites.AddRange(new[] { service.Invented.AlderLane, service.Invented.MillField }.Select(site => new PersonSite { SiteId = site }));
        store.People.Add(person);
        await store.SaveChangesAsync();
        return service;
    }

    /// <summary>All that is due at a moment by the clock on the wall.</summary>
    /// <returns>Rounds done and digests written.</returns>
    private static async Task<(int Rounds, int Digests)> StepAsync(TestService service, LocalDateTime now)
    {
        ((FakeClock)service.Services.GetRequiredService<IClock>()).Reset(now.InZoneLeniently(s_zone).ToInstant());
        var before = await CountAsync(service);
        await using (var scope = service.Services.CreateAsyncScope())
            await scope.ServiceProvider.GetRequiredService<MorningStep>().RunAsync(TestContext.Current.CancellationToken);
        var after = await CountAsync(service);
        return (after.Rounds - before.Rounds, after.Digests - before.Digests);
    }

    private static async Task<(int Rounds, int Digests)> CountAsync(TestService service)
    {
        await using var store = service.Store();
        return (await store.Mornings.CountAsync(), await store.Outbox.CountAsync(mail => mail.Key.StartsWith("digest:")));
    }

    private static async Task<string> LastAsync(TestService service)
    {
        await using var store = service.Store();
        return await store.Outbox.Where(mail => mail.Key.StartsWith("digest:")).OrderByDescending(mail => mail.Id).Select(mail => mail.TextBody).FirstAsync();
    }
}
