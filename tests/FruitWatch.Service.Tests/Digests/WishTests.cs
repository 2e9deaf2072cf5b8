using FruitWatch.Feeds;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>The morning mail as its reader wishes it: not on quiet mornings, not of some kinds, not now, not to them but to another.</summary>
public sealed class WishTests
{
    [Fact]
    public async Task A_quiet_morning_is_skipped_until_there_is_something_to_tell()
    {
        await using var service = await StartAsync();
        var choosy = await PersonAsync(service, person => person.Digests = DigestWish.WhenThereIsNews);
        var never = await PersonAsync(service, person => person.Digests = DigestWish.Never);
        Assert.Equal([choosy], await ComposeAsync(service));
        Assert.DoesNotContain(never, (await MailsAsync(service)).Keys);

        // The same notices on the next morning are no news; one more is.
        await NextMorningAsync(service);
        Assert.Empty(await ComposeAsync(service));
        await using (var store = service.Store())
            await store.Notices.Where(notice => notice.Kind == "water" && notice.State == NoticeState.Open).ExecuteUpdateAsync(set => set.SetProperty(notice => notice.RevisedAt, Now(service)).SetProperty(notice => notice.Revisions, notice => notice.Revisions + 1));
        Assert.Equal([choosy], await ComposeAsync(service));
        Assert.Empty(await ComposeAsync(service));
    }

    /// <summary>A revision that is written while a mail is composed was not read for it, whatever the times say.</summary>
    [Fact]
    public async Task What_was_revised_while_a_mail_was_composed_is_told_with_the_next()
    {
        await using var service = await StartAsync();
        var choosy = await PersonAsync(service, person => person.Digests = DigestWish.WhenThereIsNews);
        Assert.Equal([choosy], await ComposeAsync(service));
        long water;
        await using (var store = service.Store())
        {
            var notice = await store.Notices.SingleAsync(row => row.Kind == "water" && row.State == NoticeState.Open);
            (water, notice.RevisedAt, notice.Revisions) = (notice.Id, Now(service) - Duration.FromMilliseconds(5), notice.Revisions + 1);
            await store.SaveChangesAsync();
        }

        await NextMorningAsync(service);
        Assert.Equal([choosy], await ComposeAsync(service));
        Assert.Equal(DigestRole.Changed, await RoleAsync(service, choosy, water));
    }

    [Fact]
    public async Task Kinds_that_were_left_out_are_not_told_and_the_others_are()
    {
        await using var service = await StartAsync();
        var ana = await PersonAsync(service, person => person.KindsLeftOut = "water weekly-check");
        await ComposeAsync(service);
        var text = (await MailsAsync(service))[ana];
        Assert.DoesNotContain("Water: 25", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Check the bed", text, StringComparison.Ordinal);
        Assert.Contains("Expect pins", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Put_off_it_is_not_listed_until_its_day_and_then_told_at_length_once()
    {
        await using var service = await StartAsync();
        var ana = await PersonAsync(service);
        await ComposeAsync(service);
        var water = await PutOffAsync(service, ana, InventedCooperative.Today.PlusDays(2));

        await NextMorningAsync(service);
        await ComposeAsync(service);
        Assert.DoesNotContain("Water: 25", (await MailsAsync(service))[ana], StringComparison.Ordinal);
        Assert.Null(await RoleAsync(service, ana, water));

        await NextMorningAsync(service);
        await ComposeAsync(service);
        Assert.Equal(DigestRole.New, await RoleAsync(service, ana, water));
        await NextMorningAsync(service);
        await ComposeAsync(service);
        Assert.Equal(DigestRole.Open, await RoleAsync(service, ana, water));
    }

    [Fact]
    public async Task A_deputy_who_may_see_all_is_told_in_the_place_of_one_who_is_away_and_others_are_not()
    {
        await using var service = await StartAsync();
        var viewer = await PersonAsync(service, person => person.Role = Role.Viewer, sites: []);
        var hand = await PersonAsync(service, person => person.Role = Role.FarmHand, sites: []);
        var days = (InventedCooperative.Today, InventedCooperative.Today.PlusDays(1));
        var first = await PersonAsync(service, person => (person.Name, person.AwayFrom, person.AwayUntil, person.DeputyId) = ("Ana Ruiz", days.Today, days.Item2, viewer));
        await PersonAsync(service, person => (person.AwayFrom, person.AwayUntil, person.DeputyId) = (days.Today, days.Item2, hand));

        Assert.Equal([viewer], await ComposeAsync(service));
        var text = (await MailsAsync(service))[viewer];
        Assert.Contains("what Ana Ruiz would be told", text, StringComparison.Ordinal);
        Assert.Contains("Straw ring", text, StringComparison.Ordinal);
        // One who only reads is offered no deed but to be reminded.
        Assert.DoesNotContain("> Watered", text, StringComparison.Ordinal);
        Assert.Contains("> Not today", text, StringComparison.Ordinal);

        await NextMorningAsync(service);
        await NextMorningAsync(service);
        var back = await ComposeAsync(service);
        Assert.Contains(first, back);
        Assert.DoesNotContain(viewer, back);
    }

    [Fact]
    public async Task An_address_from_which_mail_came_back_is_not_written_to()
    {
        await using var service = await StartAsync();
        await PersonAsync(service, person => (person.MailPausedAt, person.MailPausedWhy) = (InventedCooperative.Now, "5.1.1"));
        Assert.Empty(await ComposeAsync(service));
    }

    private static async Task<TestService> StartAsync()
    {
        var service = await TestService.StartAsync();
        await using var store = service.Store();
        (await store.Feeds.SingleAsync()).Description = FeedPresets.Find("station-daily-csv")!.Json;
        await store.SaveChangesAsync();
        return service;
    }

    private static async Task<long> PersonAsync(TestService service, Action<Person>? adjust = null, long[]? sites = null)
    {
        await using var store = service.Store();
        var person = new Person { CooperativeId = service.Invented.Cooperative, Name = "Told", Email = $"{Guid.NewGuid():N}@example.org", Role = Role.Coordinator };
        person.Sites.AddRange((sites ?? [service.Invented.AlderLane, service.Invented.MillField]).Select(site => new PersonSite { SiteId = site }));
        adjust?.Invoke(person);
        store.People.Add(person);
        await store.SaveChangesAsync();
        return person.Id;
    }

    private static Instant Now(TestService service) => service.Services.GetRequiredService<IClock>().GetCurrentInstant();

    private static async Task NextMorningAsync(TestService service)
    {
        ((FakeClock)service.Services.GetRequiredService<IClock>()).Advance(Duration.FromDays(1));
        await using var store = service.Store();
        var today = Now(service).InZone(DateTimeZoneProviders.Tzdb["Europe/Madrid"]).Date;
        foreach (var site in new[] { service.Invented.AlderLane, service.Invented.MillField })
            store.Mornings.Add(new SiteMorning { SiteId = site, On = today, DoneAt = Now(service), FeedState = "fresh" });
        // What went out in the morning is not superseded by the next.
        await store.SaveChangesAsync();
        await store.Outbox.Where(mail => mail.State == MailState.Pending).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.State, MailState.Sent));
    }

    private static async Task<long> PutOffAsync(TestService service, long person, LocalDate until)
    {
        await using var store = service.Store();
        var water = await store.Notices.Where(notice => notice.Kind == "water" && notice.State == NoticeState.Open).Select(notice => notice.Id).SingleAsync();
        store.MailDeeds.Add(new MailDeed
        {
            CooperativeId = service.Invented.Cooperative,
            PersonId = person,
            NoticeId = water,
            Nonce = "n",
            Deed = ApiJson.WordOf(Deed.Snooze),
            At = Now(service) + Duration.FromMinutes(1),
            Until = until,
        });
        await store.SaveChangesAsync();
        return water;
    }

    private static async Task<DigestRole?> RoleAsync(TestService service, long person, long notice)
    {
        await using var store = service.Store();
        var mail = await store.Outbox.Where(one => one.PersonId == person).MaxAsync(one => one.Id);
        return (await store.DigestNotices.SingleOrDefaultAsync(told => told.MailId == mail && told.NoticeId == notice))?.Role;
    }

    private static async Task<List<long>> ComposeAsync(TestService service)
    {
        await using var store = service.Store();
        var last = await store.Outbox.MaxAsync(mail => (long?)mail.Id) ?? 0;
        await service.Services.GetRequiredService<DigestRound>().ComposeDueAsync(TestContext.Current.CancellationToken);
        return await store.Outbox.Where(mail => mail.Id > last && mail.PersonId != null).Select(mail => mail.PersonId!.Value).Order().ToListAsync();
    }

    private static async Task<Dictionary<long, string>> MailsAsync(TestService service)
    {
        await using var store = service.Store();
        return (await store.Outbox.Where(mail => mail.PersonId != null && mail.Key.StartsWith("digest:")).OrderBy(mail => mail.Id).ToListAsync())
            .GroupBy(mail => mail.PersonId!.Value).ToDictionary(mails => mails.Key, mails => mails.Last().TextBody);
    }
}
