using System.Text;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using static FruitWatch.Service.Tests.Channels.Email.Bounces.StopLetters;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>Unsubscribing by a mail to the address of List-Unsubscribe (RFC 2369 section 3.2), and who is taken to have asked for it (RFC 3834).</summary>
public sealed class StopMailTests
{
    private static readonly string[] s_ways =
    [
        "To: ADDRESS",
        "To: <ADDRESS>",
        "To: \"Stop, please\" <ADDRESS>, beds@alder.invalid",
        "To: beds@alder.invalid\r\nCc: ADDRESS",
        "To: undisclosed-recipients:;\r\nDelivered-To: ADDRESS",
        "X-Original-To: ADDRESS",
        "Envelope-To: <ADDRESS>",
        "To: ADDRESS\r\nAuto-Submitted: no (a person)",
        "To: ADDRESS\r\nReturn-Path: <ana@growers.invalid>\r\nPrecedence: first-class",
        "To: ADDRESS\r\nContent-Type: multipart/alternative; boundary=b\r\n\r\n--b\r\n\r\nx\r\n--b--\r\n",
        "To: ADDRESS\r\nSubject: unsubscribe\r\nAuto-Submitted: auto-replied\r\nX-Apple-Unsubscribe: true",
    ];

    private static readonly string[] s_automatic =
    [
        "Auto-Submitted: auto-replied (vacation)",
        "Auto-Submitted: auto-generated; owner-email=\"x@growers.invalid\"",
        "Precedence: Bulk",
        "Precedence: junk",
        "Precedence: list",
        "List-Id: <talk.growers.invalid>",
        "List-Unsubscribe: <https://growers.invalid/>",
        "X-Autoreply: yes",
        "Return-Path: <>",
        "From: Mail Delivery Subsystem <MAILER-DAEMON@mx.growers.invalid>",
        "Content-Type: multipart/report; report-type=disposition-notification; boundary=b",
        "Return-Path: <>\r\nAuto-Submitted: auto-replied\r\nX-Apple-Unsubscribe: true",
    ];

    private static readonly string[] s_reports = ["postfix-like", "odd-names-no-status", "encoded-no-report-type", "delayed"];

    /// <summary>What is done once stays done, in the member's name and as by the link; nothing is sent about it.</summary>
    [Theory]
    [InlineData(StopTopic.Digest)]
    [InlineData(StopTopic.Urgent)]
    internal async Task However_often_it_comes_it_is_done_once_and_nothing_is_answered(StopTopic topic)
    {
        await using var mailbox = new ScriptedPop3 { BreakAtQuit = true };
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        await back.MailAsync("digest", MailState.Pending);
        await back.MailAsync("urgent", MailState.Pending);
        int before;
        await using (var outbox = back.Service.Store())
            before = await outbox.Outbox.CountAsync();
        var letter = Letter(AddressOf(back, topic));
        mailbox.Messages.AddRange([letter, [.. letter]]);

        await RunAsync(back);
        Assert.Equal(After(topic), await WishesAsync(back));
        mailbox.BreakAtQuit = false;
        Assert.Equal(2, (await RunAsync(back)).Stopped);
        Assert.Equal("unsubscribed", await HandOverAsync(back, letter));

        Assert.Empty(mailbox.Messages);
        await using var store = back.Service.Store();
        var line = await store.Audit.SingleAsync(entry => entry.Action == "person.changed" && entry.SubjectId == $"{back.Ana}");
        Assert.Equal(("mail", back.Ana), (line.Via, line.PersonId));
        var (ended, waits) = topic == StopTopic.Digest ? ("digest:", "urgent:") : ("urgent:", "digest:");
        Assert.Equal(before, await store.Outbox.CountAsync());
        var mails = await store.Outbox.Where(mail => mail.PersonId == back.Ana).ToListAsync();
        Assert.Equal((MailState.Expired, WaitingMails.NotWanted), mails.Where(mail => mail.Key.StartsWith(ended, StringComparison.Ordinal)).Select(mail => (mail.State, mail.LastError)).Single());
        Assert.Equal(MailState.Pending, mails.Single(mail => mail.Key.StartsWith(waits, StringComparison.Ordinal)).State);
        Assert.Empty(back.Log.Warnings);
    }

    /// <summary>Relays change the case, forwarders and servers note the address elsewhere, and one maker's programs call their button an automatic answer.</summary>
    [Fact]
    public async Task It_is_known_however_it_came()
    {
        await using var mailbox = new ScriptedImap();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port, "imap");
        var people = new List<long>();
        foreach (var (i, header) in s_ways.Index())
        {
            people.Add(await back.JoinAsync($"Way{i}", Role.Grower));
            mailbox.Messages.Add((2 * i) + 1, Message(header, AddressOf(back, StopTopic.Urgent, people[i])));
            mailbox.Messages.Add((2 * i) + 2, Message(header, AddressOf(back, StopTopic.Digest, people[i]).ToUpperInvariant()));
        }

        Assert.Equal(BounceRun.Nothing with { Stopped = 2 * s_ways.Length }, await RunAsync(back));

        foreach (var person in people)
            Assert.Equal((DigestWish.Never, UrgentWish.Never), await WishesAsync(back, person));
        Assert.Equal(Before, await WishesAsync(back));
    }

    [Fact]
    public async Task A_server_that_hands_it_over_may_say_where_it_came_to()
    {
        await using var back = await ReturnedMail.StartAsync();

        Assert.Equal("no report", await HandOverAsync(back, Letter("beds@alder.invalid")));
        Assert.Equal("unsubscribed", await HandOverAsync(back, Letter("beds@alder.invalid"), AddressOf(back, StopTopic.Digest)));

        Assert.Equal(After(StopTopic.Digest), await WishesAsync(back));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task What_nobody_wrote_ends_nothing_and_stays(bool top)
    {
        await using var mailbox = new ScriptedPop3(top);
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        mailbox.Messages.AddRange(s_automatic.Select(header => Message("To: ADDRESS\r\n" + header, AddressOf(back, StopTopic.Digest))));

        Assert.Equal(BounceRun.Nothing with { Left = s_automatic.Length }, await RunAsync(back));
        foreach (var message in mailbox.Messages)
            Assert.Equal("no report", await HandOverAsync(back, message));

        Assert.Equal(Before, await WishesAsync(back));
    }

    /// <summary>Nor does a report on what somebody sent there, or on one of our mails: that is about a mail.</summary>
    [Fact]
    public async Task A_report_ends_nothing()
    {
        await using var mailbox = new ScriptedImap();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port, "imap");
        foreach (var sample in s_reports)
        {
            mailbox.Messages.Add(mailbox.Messages.Count + 1, ReportSamples.Bytes(sample, AddressOf(back, StopTopic.Digest)));
            mailbox.Messages.Add(mailbox.Messages.Count + 1, [.. Encoding.ASCII.GetBytes($"Cc: {AddressOf(back, StopTopic.Digest)}\r\n"), .. ReportSamples.Bytes(sample, back.ReturnPathOf(await back.MailAsync()))]);
        }

        var run = await RunAsync(back);

        Assert.Equal((0, s_reports.Length, s_reports.Length), (run.Stopped, run.Failures + run.Others, run.Left));
        Assert.Equal(Before, await WishesAsync(back));
    }

    [Fact]
    public async Task An_address_that_was_made_up_or_is_for_something_else_ends_nothing_and_the_message_stays()
    {
        await using var mailbox = new ScriptedPop3();
        await using var back = await ReturnedMail.StartAsync(mailbox.Port);
        var good = AddressOf(back, StopTopic.Digest);
        var links = back.Service.Services.GetRequiredService<StopLinks>();
        var strange = new[]
        {
            good.Replace("bounces+", "bounces+a", StringComparison.Ordinal), good.Replace("@", "a@", StringComparison.Ordinal), good.Replace("alder", "elder", StringComparison.Ordinal),
            good.Replace('+', '-'), "bounces+@alder.invalid", "bounces@alder.invalid", back.ReturnPathOf(await back.MailAsync()),
            $"bounces+{links.AddressOf(new StopLink(back.Ana, StopTopic.Digest)).Split('/')[^1]}@alder.invalid",
        };
        mailbox.Messages.AddRange(strange.Select(Letter));

        Assert.Equal(BounceRun.Nothing with { Left = strange.Length }, await RunAsync(back));
        Assert.Equal(BounceRun.Nothing with { Left = strange.Length }, await RunAsync(back));

        Assert.Equal(Before, await WishesAsync(back));
    }

    [Fact]
    public async Task It_works_for_who_is_not_let_in_and_of_who_is_gone_nothing_is_left()
    {
        await using var back = await ReturnedMail.StartAsync();
        await using (var store = back.Service.Store())
            await store.People.Where(person => person.Id == back.Ana).ExecuteUpdateAsync(set => set.SetProperty(row => row.Active, false));

        Assert.Equal("unsubscribed", await HandOverAsync(back, Letter(AddressOf(back, StopTopic.Digest))));
        Assert.Equal("no member's mail", await HandOverAsync(back, Letter(AddressOf(back, StopTopic.Digest, 987654321))));

        Assert.Equal(After(StopTopic.Digest), await WishesAsync(back));
    }
}
