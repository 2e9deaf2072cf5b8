using System.Globalization;
using System.Net;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Api;
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
