using System.Globalization;
using System.Net;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Cooperatives;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Wishes;

/// <summary>Whoever has said that they want no more is sent no more, though it waits in the outbox already.</summary>
public sealed class WaitingMailTests(OneService running) : IClassFixture<OneService>
{
    private static readonly string[] s_kinds = ["digest", "urgent", "taken-back", "test", "invitation"];
    private static int s_people;

    private TestService Service => running.Service;

    [Theory]
    [InlineData(StopTopic.Digest, "digest")]
    [InlineData(StopTopic.Urgent, "urgent taken-back")]
    internal async Task Unsubscribing_ends_what_waits_of_the_topic_and_nothing_else(StopTopic topic, string ended)
    {
        var (one, other) = (await WithMailsAsync(), await WithMailsAsync());
        var link = new Uri(Service.Services.GetRequiredService<StopLinks>().AddressOf(new StopLink(one.PersonId, topic))).AbsolutePath;
        using var stranger = Service.Client(null);
        using (var stopped = await stranger.PostAsync(link, new FormUrlEncodedContent([new("List-Unsubscribe", "One-Click")])))
            Assert.Equal(HttpStatusCode.OK, stopped.StatusCode);

        await EndedAsync(one, ended, WaitingMails.NotWanted);
        await EndedAsync(other, "", "");
    }

    [Theory]
    [InlineData("""{"digests":"never"}""", "digest")]
    [InlineData("""{"urgent":"never"}""", "urgent taken-back")]
    [InlineData("""{"awayFrom":"2026-10-14","awayUntil":"2026-10-20"}""", "digest urgent taken-back")]
    [InlineData("""{"awayFrom":"2026-10-16","awayUntil":"2026-10-20"}""", "")]
    public async Task So_do_wishes_and_a_pause_that_has_begun(string wishes, string ended)
    {
        var member = await WithMailsAsync();
        using var own = Service.Client(member);
        using var change = new HttpRequestMessage(HttpMethod.Put, "/api/v1/me/wishes") { Content = new StringContent(wishes, System.Text.Encoding.UTF8, "application/json") };
        change.Headers.TryAddWithoutValidation("If-Match", "*");
        using (var changed = await own.SendAsync(change))
            Assert.Equal(HttpStatusCode.OK, changed.StatusCode);

        await EndedAsync(member, ended, WaitingMails.NotWanted);
    }

    [Fact]
    public async Task Whoever_is_let_in_no_more_or_has_another_address_is_sent_nothing_that_waits()
    {
        using var api = new ApiClient(Service);
        var (gone, moved) = (await WithMailsAsync(), await WithMailsAsync());
        await Service.ChangeAsync(moved.PersonId, row => row.EmailConfirmedAt = null);

        await ChangeAsync(gone, row => $$"""{"name":"{{row.Name}}","email":"{{row.Email}}","role":"viewer","active":false}""");
        await ChangeAsync(moved, row => $$"""{"name":"{{row.Name}}","email":"moved@growers.example","role":"viewer"}""");

        await EndedAsync(gone, "digest urgent taken-back test", WaitingMails.NotLetIn);
        await EndedAsync(moved, "digest urgent taken-back test", WaitingMails.Moved);

        async Task ChangeAsync(Member member, Func<Person, string> body)
        {
            await using var store = Service.Store();
            var row = await store.People.AsNoTracking().SingleAsync(one => one.Id == member.PersonId);
            var changed = await api.SendAsync("PUT", string.Create(CultureInfo.InvariantCulture, $"/api/v1/people/{member.PersonId}"), body(row));
            Assert.True(changed.Status == HttpStatusCode.OK, changed.Text);
        }
    }

    [Fact]
    public async Task What_is_in_doubt_is_not_called_unsent_and_what_is_under_way_does_not_come_back()
    {
        var member = await WithMailsAsync();
        await using (var store = Service.Store())
        {
            await store.Outbox.Where(mail => mail.PersonId == member.PersonId && mail.Key.StartsWith("urgent:"))
                .ExecuteUpdateAsync(set => set.SetProperty(row => row.LastError, MailMark.InDoubt + "broken off"));
            await store.Outbox.Where(mail => mail.PersonId == member.PersonId && mail.Key.StartsWith("taken-back:"))
                .ExecuteUpdateAsync(set => set.SetProperty(row => row.State, MailState.Sending));
            await WaitingMails.EndUrgentAsync(store, member.PersonId, WaitingMails.NotWanted, InventedCooperative.Now, CancellationToken.None);
        }

        var mails = await MailsAsync(member);
        Assert.Equal((MailState.Unconfirmed, MailMark.InDoubt + "broken off"), (mails["urgent"].State, mails["urgent"].LastError));
        Assert.Equal((MailState.Sending, InventedCooperative.Now), (mails["taken-back"].State, mails["taken-back"].NotAfter));
    }

    /// <summary>Of some beds: what tells of those alone, and of urgent things; on whichever database.</summary>
    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task Of_some_beds_those_urgent_mails_end_that_tell_of_nothing_else(string provider)
    {
        await using var stores = await TestStores.OpenAsync(provider);
        await using var all = stores.Factory.CreateDbContext();
        var cooperative = await new AnyCooperative(1).MakeAsync(all);
        var person = await all.People.FirstAsync(row => row.CooperativeId == cooperative);
        var site = await all.Sites.FirstAsync(row => row.CooperativeId == cooperative);
        var (one, other) = (Bed("One"), Bed("Other"));
        all.Beds.AddRange(one, other);
        await all.SaveChangesAsync();
        var (ofOne, ofOther) = (Notice(one), Notice(other));
        all.Notices.AddRange(ofOne, ofOther);
        OutgoingMail[] mails = [Mail("urgent:one"), Mail("urgent:both"), Mail("urgent:neither"), Mail("taken-back:one"), Mail("digest:one")];
        all.Outbox.AddRange(mails);
        await all.SaveChangesAsync();
        foreach (var (mail, about) in new[] { (0, ofOne), (1, ofOne), (1, ofOther), (3, ofOne), (4, ofOne) })
            all.DigestNotices.Add(new DigestNotice { MailId = mails[mail].Id, NoticeId = about.Id });
        await all.SaveChangesAsync();

        var reach = new Store.Reach();
        reach.Open(person, growersReadAll: true, "mail", stores.Clock);
        await using (var own = stores.Factory.CreateDbContext(reach))
        {
            Assert.Equal(0, await WaitingMails.EndUrgentOfAsync(own, person.Id, [], WaitingMails.NotWanted, InventedCooperative.Now, CancellationToken.None));
            Assert.Equal(2, await WaitingMails.EndUrgentOfAsync(own, person.Id, [one.Id], WaitingMails.NotWanted, InventedCooperative.Now, CancellationToken.None));
        }

        Assert.Equal(
            ["taken-back:one", "urgent:one"],
            await all.Outbox.Where(mail => mail.PersonId == person.Id && mail.State == MailState.Expired && mail.LastError == WaitingMails.NotWanted).Select(mail => mail.Key).OrderBy(key => key).ToListAsync());

        Bed Bed(string name) => new() { SiteId = site.Id, Name = name, SpeciesKey = "wine-cap", Area = 1, InoculatedOn = InventedCooperative.Today };

        IssuedNotice Notice(Bed bed) => new() { SiteId = site.Id, BedId = bed.Id, Kind = "frost-ahead", Episode = 77, Confidence = "firm", Reason = "{}", IssuedAt = InventedCooperative.Now };

        OutgoingMail Mail(string key) => new()
        {
            Key = key,
            CooperativeId = cooperative,
            PersonId = person.Id,
            ToName = "W",
            ToAddress = "waits@growers.invalid",
            Subject = "S",
            TextBody = "T",
            HtmlBody = "H",
            MessageId = $"{key}@alder.invalid",
            NextTryAt = InventedCooperative.Now,
            NotAfter = InventedCooperative.Now + Duration.FromDays(1),
        };
    }

    private async Task<Member> WithMailsAsync()
    {
        var member = await Service.JoinAsync(Role.Viewer, string.Create(CultureInfo.InvariantCulture, $"Waits {Interlocked.Increment(ref s_people)}"), Service.Invented.AlderLane);
        await using var store = Service.Store();
        store.Outbox.AddRange(s_kinds.Select(kind => new OutgoingMail
        {
            Key = $"{kind}:{member.PersonId}:2026-10-14",
            CooperativeId = Service.Invented.Cooperative,
            PersonId = member.PersonId,
            ToName = "W",
            ToAddress = "waits@growers.invalid",
            Subject = "S",
            TextBody = "T",
            HtmlBody = "H",
            MessageId = $"{kind}.{member.PersonId}@alder.invalid",
            NextTryAt = InventedCooperative.Now,
            NotAfter = InventedCooperative.Now + Duration.FromDays(1),
        }));
        await store.SaveChangesAsync();
        return member;
    }

    private async Task<Dictionary<string, OutgoingMail>> MailsAsync(Member member)
    {
        await using var store = Service.Store();
        return await store.Outbox.AsNoTracking().Where(mail => mail.PersonId == member.PersonId && mail.MessageId.EndsWith("@alder.invalid")).ToDictionaryAsync(mail => mail.Key.Split(':')[0]);
    }

    private async Task EndedAsync(Member member, string ended, string why)
    {
        var kinds = ended.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(
            s_kinds.Select(kind => (kind, kinds.Contains(kind) ? MailState.Expired : MailState.Pending, kinds.Contains(kind) ? why : null)).Order(),
            (await MailsAsync(member)).Select(mail => (mail.Key, mail.Value.State, mail.Value.LastError)).Order());
    }
}
