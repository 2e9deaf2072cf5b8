using FruitWatch.Feeds;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Tests.Verification;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>Of a bed that somebody left out the morning mail says nothing; of all the others it tells as before.</summary>
public sealed class BedsLeftOutTests
{
    [Fact]
    public async Task It_is_in_no_letter_and_makes_no_news()
    {
        await using var service = await StartAsync();
        var invented = service.Invented;
        var without = await PersonAsync(service, DigestWish.EveryMorning, invented.Hazels);
        var all = await PersonAsync(service, DigestWish.EveryMorning);
        var quiet = await PersonAsync(service, DigestWish.WhenThereIsNews, invented.Hazels, invented.Straw, invented.Young);
        var nothing = await PersonAsync(service, DigestWish.EveryMorning, invented.Hazels, invented.Straw, invented.Young, invented.Later);
        await ComposeAsync(service);

        var letters = await LettersAsync(service);
        Assert.DoesNotContain("Under the hazels", letters[without].Text + letters[without].Html + letters[without].Subject, StringComparison.Ordinal);
        Assert.Contains("Straw ring", letters[without].Text, StringComparison.Ordinal);
        Assert.Contains("Path by the fence", letters[without].Text, StringComparison.Ordinal);
        // Its water and its pins to come, and its line among the beds.
        Assert.Contains("Water: 25", letters[all].Text, StringComparison.Ordinal);
        Assert.Contains("Under the hazels", letters[all].Text, StringComparison.Ordinal);
        // Of the one bed that is left to them there is no notice.
        Assert.DoesNotContain(quiet, letters.Keys);
        // Whoever wants a mail every morning gets one, of the weather if of no bed.
        Assert.Contains("Alder Lane", letters[nothing].Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Straw ring", letters[nothing].Text, StringComparison.Ordinal);
        await using var store = service.Store();
        Assert.False(await store.DigestNotices.AnyAsync(told => store.Outbox.Any(mail => mail.Id == told.MailId && mail.PersonId == without)
            && store.Notices.Any(notice => notice.Id == told.NoticeId && notice.BedId == invented.Hazels)));
    }

    /// <summary>As with kinds: what was told before the bed was left out is not taken back in a mail either, and told anew to whoever wants it again.</summary>
    [Fact]
    public async Task What_was_told_before_is_not_taken_back_and_comes_again_with_the_bed()
    {
        await using var service = await StartAsync();
        var (leaves, stays) = (await PersonAsync(service, DigestWish.EveryMorning), await PersonAsync(service, DigestWish.EveryMorning));
        await ComposeAsync(service);
        await LeaveOutAsync(service, leaves, service.Invented.Hazels);
        await NextMorningAsync(service);
        await using (var store = service.Store())
        {
            await store.Notices.Where(notice => notice.BedId == service.Invented.Hazels && notice.Kind == "water").ExecuteUpdateAsync(
                set => set.SetProperty(notice => notice.State, NoticeState.Withdrawn).SetProperty(notice => notice.ClosedOn, InventedCooperative.Today.PlusDays(1)));
        }

        await ComposeAsync(service);
        Assert.Equal([DigestRole.New, DigestRole.Withdrawn], await RolesAsync(service, stays));
        Assert.Equal([DigestRole.New], await RolesAsync(service, leaves));

        await using (var store = service.Store())
            await store.PersonBedsLeftOut.ExecuteDeleteAsync();
        await NextMorningAsync(service);
        await ComposeAsync(service);
        Assert.Equal([DigestRole.New, DigestRole.Withdrawn], await RolesAsync(service, leaves));
    }

    /// <summary>As with kinds: whoever stands in is told what they want themselves.</summary>
    [Fact]
    public async Task A_deputy_is_told_of_the_beds_that_they_have_not_left_out_themselves()
    {
        await using var service = await StartAsync();
        var invented = service.Invented;
        var deputy = await PersonAsync(service, DigestWish.EveryMorning, invented.Hazels);
        await using (var store = service.Store())
        {
            await store.PersonSites.Where(row => row.PersonId == deputy).ExecuteDeleteAsync();
            var away = await store.People.SingleAsync(row => row.Id == service.Coordinator.PersonId);
            (away.AwayFrom, away.AwayUntil, away.DeputyId) = (InventedCooperative.Today, InventedCooperative.Today, deputy);
            if (!await store.PersonSites.AnyAsync(row => row.PersonId == away.Id && row.SiteId == invented.AlderLane))
                store.PersonSites.Add(new PersonSite { PersonId = away.Id, SiteId = invented.AlderLane });
            store.PersonBedsLeftOut.Add(new PersonBedLeftOut { PersonId = away.Id, BedId = invented.Straw });
            await store.SaveChangesAsync();
        }

        await ComposeAsync(service);
        var letter = (await LettersAsync(service))[deputy].Text;
        Assert.Contains("Straw ring", letter, StringComparison.Ordinal);
        Assert.DoesNotContain("Under the hazels", letter, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Any_number_of_people_and_beds_takes_as_many_queries_as_one()
    {
        await using var service = await StartAsync();
        await PersonAsync(service, DigestWish.EveryMorning);
        var few = await CountAsync();
        for (var i = 0; i < 12; i++)
            await PersonAsync(service, DigestWish.EveryMorning, service.Invented.Hazels, service.Invented.Straw, service.Invented.Young);
        Assert.Equal(few, await CountAsync());

        async Task<int> CountAsync()
        {
            await using var store = service.Store();
            using var queries = new QueryCount(store);
            var readers = await Readers.AllAsync(store, Now(service), TestContext.Current.CancellationToken);
            Assert.All(readers.Where(reader => reader.Person.BedsLeftOut.Count > 0), reader => Assert.False(reader.IsToldOfBed(service.Invented.Straw)));
            return queries.Count;
        }
    }

    private static async Task<TestService> StartAsync()
    {
        var service = await TestService.StartAsync();
        await using var store = service.Store();
        (await store.Feeds.SingleAsync()).Description = FeedPresets.Find("station-daily-csv")!.Json;
        await store.SaveChangesAsync();
        return service;
    }

    private static async Task<long> PersonAsync(TestService service, DigestWish digests, params long[] leftOut)
    {
        await using var store = service.Store();
        var person = new Person { CooperativeId = service.Invented.Cooperative, Name = "Told", Email = $"{Guid.NewGuid():N}@example.org", Role = Role.Coordinator, Digests = digests };
        person.Sites.AddRange(new[] { service.Invented.AlderLane, service.Invented.MillField }.Select(site => new PersonSite { SiteId = site }));
        person.BedsLeftOut.AddRange(leftOut.Select(bed => new PersonBedLeftOut { BedId = bed }));
        store.People.Add(person);
        await store.SaveChangesAsync();
        return person.Id;
    }

    private static async Task LeaveOutAsync(TestService service, long person, long bed)
    {
        await using var store = service.Store();
        store.PersonBedsLeftOut.Add(new PersonBedLeftOut { PersonId = person, BedId = bed });
        await store.SaveChangesAsync();
    }

    private static Instant Now(TestService service) => service.Services.GetRequiredService<IClock>().GetCurrentInstant();

    private static Task<int> ComposeAsync(TestService service) => service.Services.GetRequiredService<DigestRound>().ComposeDueAsync(TestContext.Current.CancellationToken);

    private static async Task NextMorningAsync(TestService service)
    {
        ((FakeClock)service.Services.GetRequiredService<IClock>()).Advance(Duration.FromDays(1));
        await using var store = service.Store();
        var today = Now(service).InZone(DateTimeZoneProviders.Tzdb["Europe/Madrid"]).Date;
        foreach (var site in new[] { service.Invented.AlderLane, service.Invented.MillField })
            store.Mornings.Add(new SiteMorning { SiteId = site, On = today, DoneAt = Now(service), FeedState = "fresh" });
        await store.SaveChangesAsync();
        await store.Outbox.Where(mail => mail.State == MailState.Pending).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.State, MailState.Sent));
    }

    private static async Task<Dictionary<long, (string Subject, string Text, string Html)>> LettersAsync(TestService service)
    {
        await using var store = service.Store();
        return (await store.Outbox.Where(mail => mail.PersonId != null && mail.Key.StartsWith("digest:")).OrderBy(mail => mail.Id).ToListAsync())
            .GroupBy(mail => mail.PersonId!.Value).ToDictionary(mails => mails.Key, mails => (mails.Last().Subject, mails.Last().TextBody, mails.Last().HtmlBody));
    }

    /// <summary>As what somebody was told of the water that the hazels want, letter by letter.</summary>
    private static async Task<List<DigestRole>> RolesAsync(TestService service, long person)
    {
        await using var store = service.Store();
        return await (
            from told in store.DigestNotices
            join mail in store.Outbox on told.MailId equals mail.Id
            join notice in store.Notices on told.NoticeId equals notice.Id
            where mail.PersonId == person && notice.BedId == service.Invented.Hazels && notice.Kind == "water"
            orderby mail.Id
            select told.Role).ToListAsync();
    }
}
