using FruitWatch.Feeds;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>Who is told what, and when: at one's own hour, once a day, of no more than one may see.</summary>
public sealed class OwnHourTests
{
    /// <summary>The zones of test 13 of the service's standards: half hours, no changes of clock, and changes of all kinds.</summary>
    public static TheoryData<string> Zones =>
    [
        "America/New_York", "America/Vancouver", "America/Santiago", "Australia/Lord_Howe", "Africa/Casablanca", "Pacific/Chatham",
        "Asia/Kolkata", "America/Phoenix", "Europe/London", "America/Havana", "Pacific/Apia", "UTC",
    ];

    [Theory]
    [MemberData(nameof(Zones))]
    public void Everywhere_and_on_every_day_of_two_years_the_hour_comes_once_and_is_the_one_that_was_wished(string id)
    {
        var zone = DateTimeZoneProviders.Tzdb[id];
        var site = new Site { Name = "S", ZoneId = id, MorningAt = new LocalTime(0, 30) };
        foreach (var at in new[] { new LocalTime(2, 30), new LocalTime(7, 0), new LocalTime(18, 0) })
        {
            foreach (var own in new[] { null, id })
            {
                var person = new Person { Name = "A", Email = "a@example.org", MorningAt = at, ZoneId = own };
                var last = Instant.MinValue;
                for (var day = new LocalDate(2026, 1, 1); day < new LocalDate(2028, 1, 1); day = day.PlusDays(1))
                {
                    var hour = DueDigests.OwnHour(person, day, [site], LocalMorning.Of(day, new LocalTime(20, 0), zone))!.Value;
                    var local = hour.InZone(zone);
                    Assert.Equal(day, local.Date);
                    // Where the clock skips the hour it is the moment after; never before, and never a second time.
                    Assert.True(local.TimeOfDay == at || (local.TimeOfDay > at && zone.MapLocal(day.At(at)).Count == 0), $"{day} {local}");
                    Assert.True(hour > last);
                    last = hour;
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Zones))]
    public void By_ones_own_clock_far_away_the_mail_comes_in_ones_own_morning(string id)
    {
        var zone = DateTimeZoneProviders.Tzdb[id];
        var site = new Site { Name = "S", ZoneId = "America/Los_Angeles" };
        var there = DateTimeZoneProviders.Tzdb[site.ZoneId];
        var person = new Person { Name = "A", Email = "a@example.org", MorningAt = new LocalTime(7, 0), ZoneId = id };
        for (var day = new LocalDate(2026, 1, 1); day < new LocalDate(2028, 1, 1); day = day.PlusDays(1))
        {
            var notAfter = LocalMorning.Of(day, new LocalTime(20, 0), there);
            var rounds = LocalMorning.Of(day, site.MorningAt, there);
            if (DueDigests.OwnHour(person, day, [site], notAfter) is not { } hour)
            {
                // Their next seven o'clock comes when the day is over at the beds.
                Assert.True(LocalMorning.Of(rounds.InZone(zone).Date.PlusDays(1), new LocalTime(7, 0), zone) >= notAfter);
                continue;
            }

            Assert.InRange(hour, rounds, notAfter);
            Assert.Equal(7, hour.InZone(zone).Hour);
        }
    }

    [Fact]
    public async Task Nobody_is_told_before_their_hour_and_everybody_once()
    {
        await using var service = await TestService.StartAsync();
        var clock = (FakeClock)service.Services.GetRequiredService<IClock>();
        var early = await PersonAsync(service, Role.Viewer, sites: [service.Invented.AlderLane]);
        // 08:30 at the sites now.
        var late = await PersonAsync(service, Role.Viewer, sites: [service.Invented.AlderLane], adjust: person => person.MorningAt = new LocalTime(9, 0));
        Assert.Equal([early], await ComposeAsync(service));
        clock.Reset(InventedCooperative.Now + Duration.FromMinutes(29));
        Assert.Empty(await ComposeAsync(service));
        clock.Reset(InventedCooperative.Now + Duration.FromMinutes(30));
        Assert.Equal([late], await ComposeAsync(service));
        clock.Reset(InventedCooperative.Now + Duration.FromHours(5));
        Assert.Empty(await ComposeAsync(service));
    }

    [Fact]
    public async Task A_grower_who_may_not_read_the_others_is_told_of_own_beds_only()
    {
        await using var service = await TestService.StartAsync();
        var invented = service.Invented;
        long[] sites = [invented.AlderLane, invented.MillField];
        var own = await PersonAsync(service, Role.Grower, sites, person => person.Beds.Add(new BedGrower { BedId = invented.Hazels }));
        var without = await PersonAsync(service, Role.Grower, sites);
        var hand = await PersonAsync(service, Role.FarmHand, [invented.MillField]);
        var gone = await PersonAsync(service, Role.Viewer, sites, person => person.Active = false);
        var pending = await PersonAsync(service, Role.FarmHand, sites);
        await using (var store = service.Store())
        {
            store.Invitations.Add(new Invitation { CooperativeId = invented.Cooperative, PersonId = pending, Hash = "x", SentAt = InventedCooperative.Now, ExpiresAt = InventedCooperative.Now });
            await store.SaveChangesAsync();
        }

        Assert.Equal([own, hand], await ComposeAsync(service));
        var mails = await MailsAsync(service);
        Assert.Contains("Under the hazels", mails[own], StringComparison.Ordinal);
        Assert.DoesNotContain("Straw ring", mails[own], StringComparison.Ordinal);
        Assert.DoesNotContain("Mill Field", mails[own], StringComparison.Ordinal);
        Assert.Contains("Path by the fence", mails[hand], StringComparison.Ordinal);
        Assert.DoesNotContain("Alder Lane\n", mails[hand], StringComparison.Ordinal);

        // Where the coordinator lets growers read each other's beds, they are told of all of their sites.
        await using (var store = service.Store())
        {
            (await store.Cooperatives.SingleAsync()).GrowersReadAll = true;
            await store.SaveChangesAsync();
        }

        Assert.Equal([without], await ComposeAsync(service));
        Assert.Contains("Straw ring", (await MailsAsync(service))[without], StringComparison.Ordinal);
        Assert.False((await MailsAsync(service)).ContainsKey(gone));
    }

    private static async Task<long> PersonAsync(TestService service, Role role, long[] sites, Action<Person>? adjust = null)
    {
        await using var store = service.Store();
        var feed = await store.Feeds.SingleAsync();
        feed.Description = FeedPresets.Find("station-daily-csv")!.Json;
        var person = new Person { CooperativeId = service.Invented.Cooperative, Name = "Told", Email = $"{Guid.NewGuid():N}@example.org", Role = role };
        person.Sites.AddRange(sites.Select(site => new PersonSite { SiteId = site }));
        adjust?.Invoke(person);
        store.People.Add(person);
        await store.SaveChangesAsync();
        return person.Id;
    }

    /// <summary>Composes what is due.</summary>
    /// <returns>Whom to.</returns>
    private static async Task<List<long>> ComposeAsync(TestService service)
    {
        var before = (await MailsAsync(service)).Keys.ToList();
        await service.Services.GetRequiredService<DigestRound>().ComposeDueAsync(TestContext.Current.CancellationToken);
        return [.. (await MailsAsync(service)).Keys.Except(before).Order()];
    }

    private static async Task<Dictionary<long, string>> MailsAsync(TestService service)
    {
        await using var store = service.Store();
        return await store.Outbox.Where(mail => mail.PersonId != null && mail.Key.StartsWith("digest:")).ToDictionaryAsync(mail => mail.PersonId!.Value, mail => mail.TextBody);
    }
}
