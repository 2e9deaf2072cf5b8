using FruitWatch.Service.Channels.Email;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using MimeKit;
using NodaTime;

namespace FruitWatch.Service.Tests.Channels.Email;

public sealed class RelayTests : SenderTests
{
    [Fact]
    public async Task A_mail_arrives_as_it_was_written()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Inés"));

        var run = await SendAsync(server.Port);

        Assert.Equal(MailRun.Nothing with { Sent = 1 }, run);
        var message = Assert.Single(server.Taken);
        Assert.Equal("Water Path bed today, Inés", message.Subject);
        Assert.Equal("digest.Ins.2026-10-05@alder.invalid", message.MessageId);
        Assert.Equal("\"Alder Lane growers\" <beds@alder.invalid>", message.From.ToString());
        var parts = Assert.IsType<MultipartAlternative>(message.Body);
        Assert.Equal(["text/plain", "text/html"], parts.Select(part => part.ContentType.MimeType));
        Assert.Equal("Good morning, Inés.\nWater: 25 litres", message.TextBody!.ReplaceLineEndings("\n").TrimEnd());
        var row = await RowAsync("Inés");
        Assert.Equal((MailState.Sent, Clock.GetCurrentInstant(), 1), (row.State, row.SentAt, row.Attempts));
    }

    [Fact]
    public async Task Many_mails_go_over_one_connection()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync([.. Enumerable.Range(1, 45).Select(i => Mail($"Person{i}"))]);

        var run = await SendAsync(server.Port);

        Assert.Equal(45, run.Sent);
        Assert.Equal(45, server.Recipients.Distinct().Count());
        Assert.Equal(1, server.Connections);
    }

    [Fact]
    public async Task A_recipient_refused_for_good_fails_and_the_others_get_theirs()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = address => address.StartsWith("gone", StringComparison.Ordinal) ? 550 : null;
        await PutAsync(Mail("Ana"), Mail("Gone"), Mail("Zoe"));

        var run = await SendAsync(server.Port);

        Assert.Equal(MailRun.Nothing with { Sent = 2, Failed = 1 }, run);
        Assert.Equal(["ana@growers.invalid", "zoe@growers.invalid"], server.Recipients);
        Assert.Equal(1, server.Connections);
        var row = await RowAsync("Gone");
        Assert.Equal(MailState.Failed, row.State);
        Assert.StartsWith("550 ", row.LastError, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(421)]
    [InlineData(450)]
    [InlineData(452)]
    public async Task A_recipient_put_off_is_tried_again_after_5_15_and_60_minutes(int code)
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = _ => code;
        await PutAsync(Mail("Ana"));
        foreach (var minutes in (int[])[5, 15, 60])
        {
            Assert.Equal(MailRun.Nothing with { Later = 1 }, await SendAsync(server.Port));
            Clock.AdvanceMinutes(minutes - 1);
            Assert.Equal(MailRun.Nothing, await SendAsync(server.Port));
            Clock.AdvanceMinutes(1);
        }

        server.AtRecipient = _ => null;
        Assert.Equal(MailRun.Nothing with { Sent = 1 }, await SendAsync(server.Port));

        Assert.Single(server.Taken);
        var row = await RowAsync("Ana");
        Assert.Equal((MailState.Sent, 4, null), (row.State, row.Attempts, row.LastError));
    }

    [Fact]
    public async Task A_mail_put_off_until_its_time_has_passed_expires()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = _ => 451;
        await PutAsync(Mail("Ana", notAfter: Morning + Duration.FromMinutes(4)));
        Assert.Equal(1, (await SendAsync(server.Port)).Later);

        Clock.AdvanceMinutes(5);
        server.AtRecipient = _ => null;

        Assert.Equal(MailRun.Nothing with { Expired = 1 }, await SendAsync(server.Port));
        Assert.Empty(server.Taken);
        Assert.Equal(MailState.Expired, await StateAsync("Ana"));
    }

    [Fact]
    public async Task A_mail_whose_time_has_passed_is_not_sent()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Late", notAfter: Morning), Mail("Ana"));

        Assert.Equal(MailRun.Nothing with { Sent = 1, Expired = 1 }, await SendAsync(server.Port));
        Assert.Equal(["ana@growers.invalid"], server.Recipients);
    }

    [Fact]
    public async Task Content_refused_for_good_fails_and_content_put_off_waits()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AfterContent = message => message.Subject!.EndsWith("Spam", StringComparison.Ordinal) ? 554
            : message.Subject.EndsWith("Full", StringComparison.Ordinal) ? 452 : null;
        await PutAsync(Mail("Spam"), Mail("Full"), Mail("Ana"));

        Assert.Equal(MailRun.Nothing with { Sent = 1, Failed = 1, Later = 1 }, await SendAsync(server.Port));
        Assert.Equal(
            [MailState.Failed, MailState.Pending, MailState.Sent],
            [await StateAsync("Spam"), await StateAsync("Full"), await StateAsync("Ana")]);
    }

    [Fact]
    public async Task A_relay_that_refuses_the_sender_is_for_the_operator_to_mend_so_the_mail_waits()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtSender = 550;
        await PutAsync(Mail("Ana"));
        Assert.Equal(1, (await SendAsync(server.Port)).Later);

        server.AtSender = null;
        Clock.AdvanceMinutes(5);

        Assert.Equal(1, (await SendAsync(server.Port)).Sent);
    }

    [Fact]
    public async Task While_the_relay_is_down_nothing_is_lost_and_no_attempt_is_counted()
    {
        var port = MailboxServer.FreePort();
        await PutAsync(Mail("Ana"), Mail("Ben"), Mail("Zoe"));

        var down = await SendAsync(port);
        Assert.NotNull(down.Problem);
        Assert.Equal(MailRun.Nothing, down with { Problem = null });
        var waiting = await RowAsync("Ana");
        Assert.Equal((MailState.Pending, 0, null), (waiting.State, waiting.Attempts, waiting.Owner));

        await using var server = await MailboxServer.StartAsync(port);
        Assert.Equal(MailRun.Nothing with { Sent = 3 }, await SendAsync(port));
        Assert.Equal(MailRun.Nothing, await SendAsync(port));
        Assert.Equal(["ana@growers.invalid", "ben@growers.invalid", "zoe@growers.invalid"], server.Recipients.Order());
    }

    [Fact]
    public async Task A_relay_without_the_encryption_asked_for_gets_nothing()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"));
        var options = Relay(server.Port);
        options.Security = "starttls";

        var run = await Sender(options).SendDueAsync(CancellationToken.None);

        Assert.Contains("NotSupported", run.Problem, StringComparison.Ordinal);
        Assert.Empty(server.Taken);
        Assert.Equal(MailState.Pending, await StateAsync("Ana"));
    }

    [Fact]
    public async Task A_relay_whose_certificate_nobody_vouches_for_gets_nothing()
    {
        using var certificate = OwnCertificate.Make();
        await using var server = await MailboxServer.StartAsync(certificate: certificate);
        await PutAsync(Mail("Ana"));
        var options = Relay(server.Port);
        options.Security = "starttls";

        var run = await Sender(options).SendDueAsync(CancellationToken.None);

        Assert.Contains("SslHandshake", run.Problem, StringComparison.Ordinal);
        Assert.Empty(server.Taken);
        Assert.Equal(MailState.Pending, await StateAsync("Ana"));
    }

    [Fact]
    public async Task No_more_leave_in_an_hour_than_allowed_and_the_rest_waits()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"), Mail("Ben"), Mail("Zoe"));
        var options = Relay(server.Port);
        options.PerHour = 2;
        var sender = Sender(options);

        Assert.Equal(MailRun.Nothing with { Sent = 2, HeldByAllowance = true }, await sender.SendDueAsync(CancellationToken.None));
        Assert.Equal(MailRun.Nothing with { HeldByAllowance = true }, await sender.SendDueAsync(CancellationToken.None));
        Clock.AdvanceMinutes(61);
        Assert.Equal(MailRun.Nothing with { Sent = 1 }, await sender.SendDueAsync(CancellationToken.None));
        Assert.Equal(3, server.Recipients.Distinct().Count());
    }

    [Fact]
    public async Task Two_senders_at_once_send_each_mail_once()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync([.. Enumerable.Range(1, 60).Select(i => Mail($"Person{i}"))]);

        var runs = await Task.WhenAll(SendAsync(server.Port), SendAsync(server.Port));

        Assert.Equal(60, runs.Sum(run => run.Sent));
        Assert.Equal(60, server.Taken.Count);
        Assert.Equal(60, server.Recipients.Distinct().Count());
    }

    [Fact]
    public async Task What_a_dead_sender_had_claimed_is_sent_once_its_claim_runs_out()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"));
        await using (var store = Open())
            Assert.Single(await Outbox.ClaimAsync(store, "died", Morning, Duration.FromMinutes(5), 10));

        Assert.Equal(MailRun.Nothing, await SendAsync(server.Port));
        Clock.AdvanceMinutes(5);
        Assert.Equal(MailRun.Nothing with { Sent = 1 }, await SendAsync(server.Port));
    }

    [Fact]
    public async Task Told_to_stop_it_gives_back_what_it_has_not_begun()
    {
        await using var server = await MailboxServer.StartAsync();
        using var stop = new CancellationTokenSource();
        server.AfterContent = _ =>
        {
            stop.Cancel();
            return null;
        };
        await PutAsync(Mail("Ana"), Mail("Ben"));

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Sender(Relay(server.Port)).SendDueAsync(stop.Token));

        var (first, second) = (await RowAsync("Ana"), await RowAsync("Ben"));
        Assert.Equal((MailState.Sent, 1), (first.State, first.Attempts));
        Assert.Equal((MailState.Pending, 0, null), (second.State, second.Attempts, second.Owner));
    }

    [Fact]
    public async Task Told_to_stop_in_the_middle_of_a_claim_it_gives_back_what_it_has_got()
    {
        await PutAsync([.. Enumerable.Range(1, 5).Select(i => Mail($"Grower {i}"))]);
        await using var relay = new ScriptedRelay();
        using var stop = new CancellationTokenSource();
        await using var store = Open();
        using var claimed = AfterCommand.Of(store, "'sending', \"Owner\"", stop.Cancel);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Sender(Relay(relay.Port)).SendDueAsync(stop.Token));

        Assert.True(claimed.Done);
        Assert.Empty(relay.Contents);
        Assert.All(await store.Outbox.AsNoTracking().ToListAsync(), mail => Assert.Equal((MailState.Pending, 0), (mail.State, mail.Attempts)));
    }

    [Fact]
    public async Task A_row_that_cannot_be_a_message_fails_by_itself()
    {
        await using var server = await MailboxServer.StartAsync();
        var two = Mail("Two");
        two.ToAddress = "a@growers.invalid, b@growers.invalid";
        await PutAsync(two, Mail("Ana"));

        Assert.Equal(MailRun.Nothing with { Sent = 1, Failed = 1 }, await SendAsync(server.Port));
        Assert.Equal("The recipient's address is not one address. Correct it with the person.", (await RowAsync("Two")).LastError);
    }

    [Fact]
    public async Task Mails_that_run_out_of_time_first_go_first()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(
            Mail("Third", Morning + Duration.FromHours(3)), Mail("First", Morning + Duration.FromHours(1)), Mail("Second", Morning + Duration.FromHours(2)));

        await SendAsync(server.Port);

        Assert.Equal(["first@growers.invalid", "second@growers.invalid", "third@growers.invalid"], server.Recipients);
        await using var store = Open();
        Assert.Equal(0, await store.Outbox.CountAsync(mail => mail.State != MailState.Sent));
    }
}
