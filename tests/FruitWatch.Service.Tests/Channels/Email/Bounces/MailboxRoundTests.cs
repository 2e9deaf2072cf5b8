using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

public sealed class MailboxRoundTests
{
    private static readonly string[] s_failures =
        ["simple", "postfix-like", "exim-like", "exchange-like", "mailbox-full", "odd-names-no-status", "encoded-no-report-type"];

    private static readonly string[] s_reports = ["delayed", "delivered", "relayed", "expanded", "forwarded-to-two-one-reached"];

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

        Assert.Equal(new BounceRun(s_failures.Length + 1, s_reports.Length + 1, s_letters.Length), run);
        Assert.Equal(s_letters.Length, mailbox.Messages.Count);
        await using var store = back.Service.Store();
        Assert.Equal(s_failures.Length + 1, await store.Bounces.CountAsync());
        Assert.NotNull((await back.PersonAsync()).MailPausedAt);

        Assert.Equal(BounceRun.Nothing with { Left = s_letters.Length }, await RunAsync(back));
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

    [Fact]
    public async Task No_more_than_two_hundred_are_read_at_a_time_and_letters_do_not_hide_what_comes_behind()
    {
        await using var mailbox = new ScriptedPop3();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        for (var i = 0; i < 210; i++)
            mailbox.Messages.Add(ReportSamples.Bytes("vacation", "bounces@alder.invalid"));
        for (var i = 0; i < 201; i++)
            mailbox.Messages.Add(ReportSamples.Bytes("delayed", "bounces@alder.invalid"));

        Assert.Equal(200, (await RunAsync(back)).Others);
        Assert.Equal(1, (await RunAsync(back)).Others);
        Assert.Equal(210, mailbox.Messages.Count);
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

    private static Task<BounceRun> RunAsync(ReturnedMail back) => back.Service.Services.GetRequiredService<BounceRound>().RunAsync(CancellationToken.None);
}
