using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Operating;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>What stands in a mail that is sent, and what is kept of it afterwards.</summary>
public sealed class FinishedMailTests : SenderTests
{
    private const string Act = "https://alder.invalid/do/AAAAAAAAAAAAAAAAAAAAAAAAAAAA";
    private const string Headers = """{"List-Unsubscribe":"<https://alder.invalid/stop/BBBBBBBBBBBBBBBBBBBBBBBBBBBB>"}""";

    /// <summary>Somebody's text is never a reason not to send: urgent mails failed for good over a bed of such a name.</summary>
    [Theory]
    [InlineData("digest:1:2026-10-05")]
    [InlineData("urgent:1:2026-10-05:1")]
    [InlineData("taken-back:1:2:0")]
    [InlineData("address-paused:1:x:2")]
    [InlineData("webhook-stopped:1:1:1")]
    [InlineData("silence:1:2:2026-10-05")]
    [InlineData("test:1:1791174600")]
    [InlineData("account:1:link:x")]
    public async Task A_bed_of_a_name_that_looks_like_a_secret_is_told_of_like_any_other(string key)
    {
        await using var server = await MailboxServer.StartAsync();
        var mail = Mail("Ana");
        mail.Key = key;
        mail.TextBody = "Water [sealed:AAAAAAAAAAAAAAAAAAAAAAAA]: 25 litres";
        await PutAsync(mail);

        Assert.Equal(1, (await SendAsync(server.Port)).Sent);

        Assert.Contains("Water [sealed:AAAAAAAAAAAAAAAAAAAAAAAA]: 25 litres", Assert.Single(server.Taken).TextBody, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_invitation_to_somebody_of_such_a_name_leaves_and_one_whose_secret_is_lost_does_not()
    {
        await using var server = await MailboxServer.StartAsync();
        var (good, lost) = (Mail("Ana"), Mail("Ben"));
        (good.Key, lost.Key) = ("invitation:1", "invitation:2");
        good.TextBody = good.HtmlBody = $"Hello [sealed:AAAAAAAAAAAAAAAAAAAAAAAA], open {Seal("invitation:1", "open-sesame")}";
        lost.TextBody = lost.HtmlBody = $"open {Seal("invitation:1", "open-sesame")}";
        await PutAsync(good, lost);

        Assert.Equal(MailRun.Nothing with { Sent = 1, Failed = 1 }, await SendAsync(server.Port));

        Assert.Contains("open open-sesame", Assert.Single(server.Taken).TextBody, StringComparison.Ordinal);
        Assert.Contains("Send it again", (await RowAsync("Ben")).LastError, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Of_a_mail_that_is_finished_no_link_that_acts_is_kept_however_it_ended()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = address => address.StartsWith("gone", StringComparison.Ordinal) ? 550 : null;
        var ended = Acting("Over");
        (ended.State, ended.LastError) = (MailState.Expired, "Superseded by the next digest.");
        await PutAsync(Acting("Ana"), Acting("Gone"), Acting("Late", Morning), ended);

        Assert.Equal(MailRun.Nothing with { Sent = 1, Failed = 1, Expired = 1 }, await SendAsync(server.Port));

        Assert.Contains(Act, Assert.Single(server.Taken).TextBody, StringComparison.Ordinal);
        foreach (var name in new[] { "Ana", "Gone", "Late", "Over" })
        {
            var row = await RowAsync(name);
            Assert.Equal(("Watered: https://alder.invalid/do/…", null), (row.TextBody, row.Headers));
            Assert.DoesNotContain("AAAA", row.HtmlBody, StringComparison.Ordinal);
        }
    }

    /// <summary>ASVS 5.0 14.2.1: the link in it lets somebody in, and no page shows the mail.</summary>
    [Fact]
    public async Task Of_a_mail_about_an_account_nothing_is_kept()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = address => address.StartsWith("gone", StringComparison.Ordinal) ? 550 : null;
        var (sent, refused) = (Mail("Ana"), Mail("Gone"));
        (sent.Key, refused.Key) = ("account:1:link:x", "account:2:link:y");
        sent.TextBody = refused.TextBody = sent.HtmlBody = refused.HtmlBody = "https://alder.invalid/sign-in/reset?code=CCCC";
        await PutAsync(sent, refused);

        Assert.Equal(MailRun.Nothing with { Sent = 1, Failed = 1 }, await SendAsync(server.Port));

        Assert.Contains("code=CCCC", Assert.Single(server.Taken).TextBody, StringComparison.Ordinal);
        foreach (var name in new[] { "Ana", "Gone" })
        {
            var row = await RowAsync(name);
            Assert.Equal(("", ""), (row.TextBody, row.HtmlBody));
        }
    }

    [Fact]
    public async Task A_mail_that_another_sender_has_by_now_keeps_what_it_says()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = _ =>
        {
            // This sender was slow, and its claim is over.
            using var store = Open();
            store.Outbox.ExecuteUpdate(set => set.SetProperty(row => row.Owner, "another"));
            return 550;
        };
        await PutAsync(Acting("Ana"));

        await SendAsync(server.Port);

        var row = await RowAsync("Ana");
        Assert.Equal((MailState.Sending, "another", Headers), (row.State, row.Owner, row.Headers));
        Assert.Contains(Act, row.TextBody, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_waits_is_left_as_it_is_and_what_older_versions_kept_is_wiped_at_night()
    {
        var (sent, lost, waits) = (Acting("Ana"), Acting("Ben"), Acting("Zoe"));
        (sent.State, sent.NotAfter, sent.TextBody) = (MailState.Sent, Morning - Duration.FromDays(30), "Watered: https://alder.invalid/do/…");
        (lost.State, lost.NotAfter) = (MailState.Expired, Morning - Duration.FromDays(30));
        await PutAsync(sent, lost, waits);
        await using var store = Open();

        Assert.Equal(2, await FinishedMails.ForgetAllAsync(store, CancellationToken.None));
        Assert.Equal(0, await FinishedMails.ForgetAllAsync(store, CancellationToken.None));

        Assert.Null((await RowAsync("Ana")).Headers);
        Assert.Equal(("Watered: https://alder.invalid/do/…", null), ((await RowAsync("Ben")).TextBody, (await RowAsync("Ben")).Headers));
        Assert.Equal(($"Watered: {Act}", Headers), ((await RowAsync("Zoe")).TextBody, (await RowAsync("Zoe")).Headers));
    }

    /// <summary>A Message-ID is of ASCII (RFC 5322 section 3.6.4); a name of other letters has a form for that (RFC 5891 section 4.4).</summary>
    [Fact]
    public async Task Mails_of_a_service_whose_address_has_other_letters_leave()
    {
        await using var server = await MailboxServer.StartAsync();
        var options = new ServiceOptions { BaseUrl = new Uri("https://bancales.españa.example") };
        var ana = new Person { Id = 1, Name = "Ana", Email = "ana@growers.invalid" };
        var mail = NewMail.To(
            ana, "digest:1:2026-10-05", new DigestMail("Riega hoy", "Riega", "<p>Riega</p>"), options, Morning, Morning + Duration.FromHours(6), Threads.OfDigests(1, 2026, options));
        (mail.PersonId, mail.CooperativeId) = (null, null);
        await PutAsync(mail);

        Assert.Equal(1, (await SendAsync(server.Port)).Sent);

        var message = Assert.Single(server.Taken);
        Assert.Equal("digest.1.2026-10-05@bancales.xn--espaa-rta.example", message.MessageId);
        Assert.Equal("digests.1.2026@bancales.xn--espaa-rta.example", message.InReplyTo);
    }

    private static OutgoingMail Acting(string name, Instant? notAfter = null)
    {
        var mail = Mail(name, notAfter);
        (mail.TextBody, mail.HtmlBody, mail.Headers) = ($"Watered: {Act}", $"<a href=\"{Act}\">Watered</a>", Headers);
        return mail;
    }
}
