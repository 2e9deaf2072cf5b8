using FruitWatch.Feeds;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Urgent;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;
using static FruitWatch.Service.Tests.Channels.Email.Bounces.StopLetters;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>From a mail of the rounds over a relay to its reader, and back from the reader's mail program into the mailbox.</summary>
public sealed class SentMailStopTests
{
    [Theory]
    [InlineData("pop3", StopTopic.Digest)]
    [InlineData("imap", StopTopic.Urgent)]
    internal async Task A_message_to_the_address_in_a_mail_that_was_sent_ends_what_it_is_for_and_is_deleted(string protocol, StopTopic topic)
    {
        await using var pop3 = new ScriptedPop3();
        await using var imap = new ScriptedImap();
        await using var relay = await MailboxServer.StartAsync();
        await using var back = await ReturnedMail.StartAsync(
            protocol == "pop3" ? pop3.Port : imap.Port, protocol, ("Mail:Host", "127.0.0.1"), ("Mail:Port", $"{relay.Port}"), ("Mail:Security", "none"));
        await ComposeAsync(back, topic);
        await back.Service.Services.GetRequiredService<MailSender>().SendDueAsync(CancellationToken.None);
        var field = relay.Taken.Single(mail => mail.To.Mailboxes.Single().Address == "ana@growers.invalid").Headers[HeaderId.ListUnsubscribe]!;

        // RFC 2369 section 2: of several the one to the left is preferred.
        var ways = field.Split(',', StringSplitOptions.TrimEntries).Select(way => new Uri(way.Trim('<', '>'))).ToList();
        Assert.Equal(["http", "mailto"], ways.Select(way => way.Scheme));
        Assert.Equal(("alder.invalid", "?subject=unsubscribe"), (ways[1].Host, ways[1].Query));
        Assert.Equal(Before, await WishesAsync(back));
        var letter = Letter($"{ways[1].UserInfo}@{ways[1].Host}");
        var other = Letter("somebody@alder.invalid");
        pop3.Messages.AddRange([letter, other]);
        imap.Messages.Add(1, letter);
        imap.Messages.Add(2, other);

        Assert.Equal(BounceRun.Nothing with { Stopped = 1, Left = 1 }, await RunAsync(back));

        Assert.Equal(After(topic), await WishesAsync(back));
        Assert.Equal(other, Assert.Single(protocol == "pop3" ? pop3.Messages : [.. imap.Messages.Values]));
        // Of what came to another address no more than the header was read.
        Assert.Equal(1, pop3.Lines.Concat(imap.Lines).Count(line => line.StartsWith("RETR", StringComparison.Ordinal) || line.StartsWith("UID FETCH", StringComparison.Ordinal)));
        Assert.Equal(BounceRun.Nothing with { Left = 1 }, await RunAsync(back));
    }

    /// <summary>The round of the morning, and of what is urgent, writes to Ana.</summary>
    private static async Task ComposeAsync(ReturnedMail back, StopTopic topic)
    {
        var service = back.Service;
        await using (var store = service.Store())
        {
            (await store.Feeds.SingleAsync()).Description = FeedPresets.Find("station-daily-csv")!.Json;
            var ana = await store.People.SingleAsync(person => person.Id == back.Ana);
            ana.Role = Role.Coordinator;
            ana.Sites.AddRange(((long[])[service.Invented.AlderLane, service.Invented.MillField]).Select(site => new PersonSite { SiteId = site }));
            await store.SaveChangesAsync();
        }

        Assert.NotEqual(0, await service.Services.GetRequiredService<DigestRound>().ComposeDueAsync(CancellationToken.None));
        if (topic == StopTopic.Digest)
            return;
        await using (var store = service.Store())
        {
            await store.Outbox.ExecuteUpdateAsync(set => set.SetProperty(mail => mail.State, MailState.Sent));
            var frost = NoticeReason.Of(ReasonCode.FrostThreatens, (ReasonNumber.GroundMin, -4), (ReasonNumber.FrostMark, -2), (ReasonNumber.Covered, 0), (ReasonNumber.LeadDays, 1));
            var draft = new NoticeDraft(NoticeKind.FrostAhead, InventedCooperative.Today.PlusDays(1), InventedCooperative.Today, NoticeConfidence.Firm, frost) { Urgent = true };
            store.Notices.Add(NoticeRows.Open(
                service.Invented.AlderLane, service.Invented.Straw, new NoticeOpened(NoticeKind.FrostAhead, 1, draft), InventedCooperative.Today, back.Clock.GetCurrentInstant()));
            await store.SaveChangesAsync();
        }

        Assert.NotEqual(0, await service.Services.GetRequiredService<UrgentRound>().ComposeAsync(CancellationToken.None));
    }
}
