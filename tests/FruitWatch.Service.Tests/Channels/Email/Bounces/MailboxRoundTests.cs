using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

public sealed class MailboxRoundTests
{
    private static readonly string[] s_failures =
        ["simple", "postfix-like", "exim-like", "exchange-like", "mailbox-full", "odd-names-no-status"];

    private static readonly string[] s_reports = ["encoded-no-report-type", "delayed", "delivered", "relayed", "expanded", "forwarded-to-two-one-reached"];

    private static readonly string[] s_letters = ["vacation", "read-receipt", "report-inside-a-letter"];

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Reports_are_filed_and_deleted_and_letters_are_left(bool top)
    {
        await using var mailbox = new ScriptedPop3(top);
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        foreach (var sample in s_failures.Concat(s_letters).Concat(s_reports))
            mailbox.Messages.Add(ReportSamples.Bytes(sample, back.ReturnPathOf(await back.MailAsync())));
        mailbox.Messages.Add(ReportSamples.Bytes("postfix-like", "bounces@alder.invalid"));
        mailbox.Messages.Add(ReportSamples.Bytes("postfix-like", back.ReturnPathOf(await back.MailAsync()).ToUpperInvariant()));

        var run = await RunAsync(back);

        Assert.Equal(new BounceRun(s_failures.Length + 1, s_reports.Length, s_letters.Length + 1), run);
        // A report without a token of ours is somebody's to see.
        Assert.Equal(s_letters.Length + 1, mailbox.Messages.Count);
        await using var store = back.Service.Store();
        Assert.Equal(s_failures.Length + 1, await store.Bounces.CountAsync());
        Assert.NotNull((await back.PersonAsync()).MailPausedAt);

        Assert.Equal(BounceRun.Nothing with { Left = s_letters.Length + 1 }, await RunAsync(back));
        Assert.Single(back.Log.Warnings, line => line.Contains("was not delivered, and not because of its address: 5.7.1", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Over_IMAP_it_is_the_same()
    {
        await using var mailbox = new ScriptedImap();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port, "imap");
        var uid = 10;
        foreach (var sample in s_failures.Concat(s_letters).Concat(s_reports))
            mailbox.Messages.Add(uid += 3, ReportSamples.Bytes(sample, back.ReturnPathOf(await back.MailAsync())));

        var run = await RunAsync(back);

        Assert.Equal(new BounceRun(s_failures.Length, s_reports.Length, s_letters.Length), run);
        Assert.Equal(s_letters.Length, mailbox.Messages.Count);
        Assert.Contains(mailbox.Lines, line => line.Contains("SMALLER 1048576", StringComparison.Ordinal));
        await using var store = back.Service.Store();
        Assert.Equal(s_failures.Length, await store.Bounces.CountAsync());
    }

    [Fact]
    public async Task A_connection_that_breaks_before_they_are_deleted_files_them_once()
    {
        await using var mailbox = new ScriptedPop3 { BreakAtQuit = true };
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        mailbox.Messages.Add(ReportSamples.Bytes("postfix-like", back.ReturnPathOf(await back.MailAsync())));

        await RunAsync(back);
        Assert.Single(mailbox.Messages);
        mailbox.BreakAtQuit = false;
        Assert.Equal(1, (await RunAsync(back)).Failures);

        Assert.Empty(mailbox.Messages);
        await using var store = back.Service.Store();
        Assert.Equal(1, await store.Bounces.CountAsync());
        Assert.Null((await back.PersonAsync()).MailPausedAt);
    }

    /// <summary>Letters and reports of others stay: they must neither use up the number for one time nor hide what lies behind or before them.</summary>
    [Fact]
    public async Task Over_POP3_no_more_than_a_number_are_taken_at_a_time_and_what_stays_hides_nothing()
    {
        await using var mailbox = new ScriptedPop3();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        mailbox.Messages.AddRange(await ManyAsync(back));

        await ManyRunAsync(back, () => mailbox.Messages.Count, () => mailbox.Lines.Count(line => line.StartsWith("RETR", StringComparison.Ordinal)));

        // Of what is too large, not even the header.
        Assert.DoesNotContain(mailbox.Lines, line => line is "TOP 83 0" or "RETR 83");
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Over_IMAP_no_more_than_a_number_are_taken_at_a_time_and_what_stays_hides_nothing(bool marks)
    {
        await using var mailbox = new ScriptedImap(marks);
        await using var back = await ReturnedMail.StartAsync(mailbox.Port, "imap");
        foreach (var message in await ManyAsync(back))
            mailbox.Messages.Add(mailbox.Messages.Count + 1, message);
        int Read() => mailbox.Lines.Count(line => line.StartsWith("UID FETCH", StringComparison.Ordinal));

        await ManyRunAsync(back, () => mailbox.Messages.Count, Read);

        // After a start only the server's own marks are left.
        var before = Read();
        await ActivatorUtilities.CreateInstance<BounceRound>(back.Service.Services).RunAsync(CancellationToken.None);
        Assert.Equal(marks ? before : before + 61, Read());
    }

    /// <summary>61 that stay, 30 of them before and 31 behind 21 that do not; and one that is too large.</summary>
    private static async Task<IReadOnlyList<byte[]>> ManyAsync(ReturnedMail back)
    {
        var address = back.ReturnPathOf(await back.MailAsync());
        IEnumerable<byte[]> Times(int times, string sample, string to) => Enumerable.Range(0, times).Select(_ => ReportSamples.Bytes(sample, to));
        return
        [
            .. Times(30, "report-inside-a-letter", "bounces@alder.invalid"), .. Times(21, "delayed", address),
            .. Times(30, "report-inside-a-letter", "bounces@alder.invalid"), .. Times(1, "postfix-like", "bounces@alder.invalid"),
            [.. ReportSamples.Bytes("delayed", address), .. new byte[BounceIntake.LongestMessage].Select(_ => (byte)'x')],
        ];
    }

    private static async Task ManyRunAsync(ReturnedMail back, Func<int> left, Func<int> read)
    {
        back.Service.Services.GetRequiredService<BounceRound>().AtOnce = 20;
        Assert.Equal(20, (await RunAsync(back)).Others);
        Assert.Equal(31 + 20, read());
        Assert.Equal(1, (await RunAsync(back)).Others);
        Assert.Equal(31 + 20 + 31, read());
        Assert.Equal(BounceRun.Nothing with { Left = 62 }, await RunAsync(back));
        Assert.Equal(31 + 20 + 31, read());
        Assert.Equal(62, left());
    }

    /// <summary>One message that nobody can make anything of ends neither the round nor what was done before it.</summary>
    [Theory]
    [InlineData("pop3")]
    [InlineData("imap")]
    public async Task A_message_that_cannot_be_read_is_left_and_the_others_are_taken(string protocol)
    {
        await using var pop3 = new ScriptedPop3();
        await using var imap = new ScriptedImap();
        for (var i = 1; i <= 5; i++)
        {
            var message = ReportSamples.Bytes("postfix-like", $"{i}@alder.invalid");
            pop3.Messages.Add(message);
            imap.Messages.Add(i, message);
        }

        var options = new BounceOptions { Address = "bounces@alder.invalid", Host = "127.0.0.1", Port = protocol == "pop3" ? pop3.Port : imap.Port, Security = "none", UserName = "bounces", Password = "correct-horse" };
        IReportBox box = protocol == "pop3" ? new Pop3Box(options, TimeSpan.FromSeconds(5)) : new ImapBox(options, TimeSpan.FromSeconds(5));
        var log = new LogLines();
        var seen = new List<string>();
        BoxLook Look(LeftMessages left) => new(
            200,
            left,
            message =>
            {
                var to = message.To.Mailboxes.Single().Address;
                seen.Add(to[..1]);
                return to[0] == '3' ? throw new OverflowException("too much") : Task.FromResult(true);
            },
            log);
        var left = new LeftMessages();

        Assert.Equal(1, await box.EmptyAsync(Look(left), CancellationToken.None));
        Assert.Equal(1, await box.EmptyAsync(Look(left), CancellationToken.None));

        Assert.Equal(["5", "4", "3", "2", "1"], seen);
        Assert.Equal(1, protocol == "pop3" ? pop3.Messages.Count : imap.Messages.Count);
        Assert.Equal("A message in the mailbox of bounces is left, because it cannot be read: OverflowException: too much", Assert.Single(log.Warnings));
    }

    [Fact]
    public async Task Where_the_store_keeps_nothing_the_round_ends_and_reads_the_same_again()
    {
        await using var mailbox = new ScriptedPop3();
        for (var i = 0; i < 10; i++)
            mailbox.Messages.Add(ReportSamples.Bytes("postfix-like", $"{i}@alder.invalid"));
        var box = new Pop3Box(new BounceOptions { Address = "bounces@alder.invalid", Host = "127.0.0.1", Port = mailbox.Port, Security = "none", UserName = "bounces", Password = "correct-horse" }, TimeSpan.FromSeconds(5));
        var left = new LeftMessages();
        var look = new BoxLook(200, left, _ => throw new DbUpdateException("disk full"), new LogLines());

        Assert.Equal(10, await box.EmptyAsync(look, CancellationToken.None));
        Assert.True(look.Failing);
        Assert.Equal(0, await box.EmptyAsync(new BoxLook(200, left, _ => Task.FromResult(true), new LogLines()), CancellationToken.None));
    }

    /// <summary>Anybody may write to the address; digits of another script are no number (RFC 3463 section 2).</summary>
    [Fact]
    public async Task A_report_with_odd_digits_ends_nothing()
    {
        await using var mailbox = new ScriptedPop3();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        var odd = System.Text.Encoding.UTF8.GetBytes(System.Text.Encoding.Latin1.GetString(ReportSamples.Bytes("postfix-like", back.ReturnPathOf(await back.MailAsync())))
            .Replace("Status: 5.1.1", "Status: 5.\u0661.1", StringComparison.Ordinal));
        mailbox.Messages.Add(odd);
        mailbox.Messages.Add(ReportSamples.Bytes("postfix-like", back.ReturnPathOf(await back.MailAsync())));

        var run = await RunAsync(back);

        Assert.Equal((2, 0, null), (run.Failures, run.Left, run.Problem));
    }

    [Fact]
    public async Task A_mail_about_an_account_that_came_back_is_told_in_the_log()
    {
        await using var mailbox = new ScriptedPop3();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        var mail = await back.MailAsync("account");
        await using (var store = back.Service.Store())
            await store.Outbox.Where(row => row.Id == mail.Id).ExecuteUpdateAsync(set => set.SetProperty(row => row.PersonId, (long?)null).SetProperty(row => row.CooperativeId, (long?)null));
        mailbox.Messages.Add(ReportSamples.Bytes("postfix-like", back.ReturnPathOf(mail)));

        Assert.Equal(new BounceRun(0, 1, 0), await RunAsync(back));

        Assert.Equal($"Mail {mail.Key}, which is no member's, came back: 5.1.1", Assert.Single(back.Log.Warnings));
    }

    [Fact]
    public async Task A_mailbox_that_is_not_there_is_told_and_the_password_is_not()
    {
        await using var back = await ReturnedMail.StartAsync(MailboxServer.FreePort());

        var run = await RunAsync(back);

        Assert.NotNull(run.Problem);
        Assert.DoesNotContain("correct-horse", run.Problem, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_recipient_refused_while_sending_counts_as_one_that_came_back()
    {
        await using var relay = await MailboxServer.StartAsync();
        relay.AtRecipient = address => address.StartsWith("ana@", StringComparison.Ordinal) ? 550 : null;
        await using var back = await ReturnedMail.StartAsync(0, "pop3", ("Mail:Host", "127.0.0.1"), ("Mail:Port", $"{relay.Port}"), ("Mail:Security", "none"));
        var first = await back.MailAsync(state: MailState.Pending);
        var sender = back.Service.Services.GetRequiredService<FruitWatch.Service.Channels.Email.MailSender>();

        Assert.Equal(1, (await sender.SendDueAsync(CancellationToken.None)).Failed);

        await using (var store = back.Service.Store())
            Assert.Equal((first.Id, true, "5.0.0"), (await store.Bounces.Select(row => new { row.MailId, row.Permanent, row.Status }).SingleAsync()) is var row ? (row.MailId, row.Permanent, row.Status) : default);
        Assert.Null((await back.PersonAsync()).MailPausedAt);

        await back.MailAsync(state: MailState.Pending);
        await sender.SendDueAsync(CancellationToken.None);

        Assert.StartsWith("5.0.0 550", (await back.PersonAsync()).MailPausedWhy, StringComparison.Ordinal);
        Assert.Single(await back.NotesAsync());
    }

    /// <summary>RFC 5321 section 4.2.3: 554 says that nothing comes of it, and not that there is no such mailbox; a relay that denies relaying says it.</summary>
    [Fact]
    public async Task A_relay_that_refuses_recipients_for_another_reason_pauses_nobody_and_the_log_says_so()
    {
        await using var relay = await MailboxServer.StartAsync();
        relay.AtRecipient = address => address.StartsWith("ana@", StringComparison.Ordinal) ? 554 : null;
        await using var back = await ReturnedMail.StartAsync(0, "pop3", ("Mail:Host", "127.0.0.1"), ("Mail:Port", $"{relay.Port}"), ("Mail:Security", "none"));
        var sender = back.Service.Services.GetRequiredService<FruitWatch.Service.Channels.Email.MailSender>();
        for (var i = 0; i < 3; i++)
        {
            await back.MailAsync(state: MailState.Pending);
            Assert.Equal(1, (await sender.SendDueAsync(CancellationToken.None)).Failed);
        }

        Assert.Null((await back.PersonAsync()).MailPausedAt);
        await using var store = back.Service.Store();
        Assert.Equal(0, await store.Bounces.CountAsync());
        Assert.Equal(3, back.Log.Warnings.Count(line => line.Contains("not because of its address: 5.0.0", StringComparison.Ordinal)));
    }

    private static Task<BounceRun> RunAsync(ReturnedMail back) => back.Service.Services.GetRequiredService<BounceRound>().RunAsync(CancellationToken.None);
}
