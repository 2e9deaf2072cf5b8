using FruitWatch.Service.Channels.Email;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>
/// RFC 5321 sections 4.2.1 and 4.5.3.2: everything that a relay can do wrong, at each point of the conversation, to one of three mails.
/// The other two arrive once, at once or with the next round; the one arrives once, or twice with equal bytes where nobody can know.
/// </summary>
public sealed class FaultTests : SenderTests
{
    private const string Victim = "ben@growers.invalid";

    [Theory]
    [InlineData(At.Hello, "421 busy")]
    [InlineData(At.Hello, "450 later")]
    [InlineData(At.Hello, "550 no")]
    [InlineData(At.From, "421 busy")]
    [InlineData(At.From, "451 later")]
    [InlineData(At.From, "550 not you")]
    [InlineData(At.To, "421 busy")]
    [InlineData(At.To, "450 later")]
    [InlineData(At.Data, "421 busy")]
    [InlineData(At.Data, "451 later")]
    [InlineData(At.Dot, "421 busy")]
    [InlineData(At.Dot, "451 later")]
    internal async Task Put_off_once_every_mail_arrives_once(At at, string answer)
    {
        await using var relay = new ScriptedRelay();
        relay.Do = Once(at, new Trick(answer, HangUp: answer.StartsWith("421", StringComparison.Ordinal)));
        await PutAllAsync();

        await ThroughAsync(relay);

        Assert.Equal(["ana@growers.invalid", Victim, "zoe@growers.invalid"], relay.Contents.Select(content => content.To).Order());
        Assert.Equal(MailState.Sent, await StateAsync("Ben"));
    }

    [Theory]
    [InlineData(At.To, "550 5.1.1 unknown")]
    [InlineData(At.To, "553 bad name")]
    [InlineData(At.Data, "554 no")]
    [InlineData(At.Dot, "550 spam")]
    [InlineData(At.Dot, "552 too large")]
    [InlineData(At.Dot, "554 no")]
    internal async Task Refused_for_good_it_fails_alone(At at, string answer)
    {
        await using var relay = new ScriptedRelay();
        relay.Do = (point, to) => Task.FromResult(point == at && to == Victim ? new Trick(answer) : null);
        await PutAllAsync();

        await ThroughAsync(relay);

        Assert.Equal(["ana@growers.invalid", "zoe@growers.invalid"], relay.Contents.Select(content => content.To).Order());
        var row = await RowAsync("Ben");
        Assert.Equal((MailState.Failed, 1), (row.State, row.Attempts));
        Assert.StartsWith(answer[..3], row.LastError, StringComparison.Ordinal);
    }

    /// <summary>
    /// The same where commands leave before the ones before them are answered (RFC 2920), as they do to a far relay: each answer is still
    /// taken for the command that it belongs to, and the next mail begins with a clean conversation.
    /// </summary>
    [Theory]
    [InlineData(At.From, "421 busy", false)]
    [InlineData(At.From, "451 later", false)]
    [InlineData(At.From, "550 not you", false)]
    [InlineData(At.To, "421 busy", false)]
    [InlineData(At.To, "450 later", false)]
    [InlineData(At.To, "550 5.1.1 unknown", true)]
    [InlineData(At.To, "550 5.7.1 no", true)]
    [InlineData(At.To, "553 bad name", true)]
    [InlineData(At.Data, "451 later", false)]
    [InlineData(At.Data, "554 no", true)]
    [InlineData(At.Dot, "451 later", false)]
    [InlineData(At.Dot, "550 spam", true)]
    internal async Task It_is_the_same_where_several_commands_leave_at_once(At at, string answer, bool forGood)
    {
        await using var relay = new ScriptedRelay { Offers = ["PIPELINING", "ENHANCEDSTATUSCODES"] };
        var trick = new Trick(answer, HangUp: answer.StartsWith("421", StringComparison.Ordinal));
        relay.Do = forGood ? (point, to) => Task.FromResult(point == at && to == Victim ? trick : null) : Once(at, trick);
        await PutAllAsync();

        await ThroughAsync(relay, far: true);

        Assert.Equal(2, relay.MostAtOnce);
        string[] others = ["ana@growers.invalid", "zoe@growers.invalid"];
        Assert.Equal(forGood ? others : [.. others.Append(Victim).Order()], relay.Contents.Select(content => content.To).Order());
        var row = await RowAsync("Ben");
        Assert.Equal(forGood ? MailState.Failed : MailState.Sent, row.State);
        if (forGood)
            Assert.StartsWith(answer, row.LastError, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_near_relay_is_asked_one_thing_after_the_other_whatever_it_announces()
    {
        await using var relay = new ScriptedRelay { Offers = ["PIPELINING"] };
        await PutAllAsync();
        var options = Relay(relay.Port);
        options.Near = TimeSpan.FromMinutes(1);

        await Sender(options).SendDueAsync(CancellationToken.None);

        Assert.Equal((1, 3), (relay.MostAtOnce, relay.Contents.Count));
    }

    [Theory]
    [InlineData(At.Greeting)]
    [InlineData(At.Hello)]
    [InlineData(At.From)]
    [InlineData(At.To)]
    [InlineData(At.Data)]
    internal async Task Hung_up_on_or_left_waiting_before_the_content_it_arrives_once(At at)
    {
        foreach (var trick in new[] { new Trick(HangUp: true), new Trick(Silent: true), new Trick("nonsense"), new Trick(Drip: TimeSpan.FromMilliseconds(40)) })
        {
            await using var relay = new ScriptedRelay();
            relay.Do = Once(at, trick);
            var name = $"{at}{(trick.HangUp ? "h" : trick.Silent ? "s" : trick.Line is null ? "d" : "n")}";
            await PutAsync(Mail($"Ana{name}"), Mail($"Ben{name}"), Mail($"Zoe{name}"));

            await ThroughAsync(relay, quick: trick.Silent);

            Assert.Equal(3, relay.Contents.Count);
            Assert.Equal(3, relay.Contents.Select(content => content.To).Distinct().Count());
        }
    }

    [Theory]
    [InlineData(false, false)]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public async Task Hung_up_on_or_left_waiting_after_the_content_it_is_sent_once_more_with_equal_bytes(bool silent, bool nonsense)
    {
        await using var relay = new ScriptedRelay();
        relay.Do = Once(At.Dot, silent ? new Trick(Silent: true) : nonsense ? new Trick("2xx what") : new Trick(HangUp: true));
        await PutAllAsync();

        await ThroughAsync(relay, quick: silent);

        var copies = relay.Contents.Where(content => content.To == Victim).ToList();
        Assert.Equal(2, copies.Count);
        Assert.Equal(copies[0], copies[1]);
        Assert.Equal(4, relay.Contents.Count);
        Assert.Equal(MailState.Sent, await StateAsync("Ben"));
    }

    [Fact]
    public async Task Taken_too_late_to_be_heard_it_is_sent_once_more_and_never_a_third_time()
    {
        await using var relay = new ScriptedRelay();
        // The 250 comes when the sender has given up.
        relay.Do = (point, to) => Task.FromResult(point == At.Dot && to == Victim ? new Trick(Wait: TimeSpan.FromSeconds(6)) : null);
        await PutAllAsync();

        await ThroughAsync(relay, quick: true);
        Clock.AdvanceHours(2);
        await ThroughAsync(relay, quick: true);

        var copies = relay.Contents.Where(content => content.To == Victim).ToList();
        Assert.Equal(2, copies.Count);
        Assert.Equal(copies[0], copies[1]);
        Assert.Equal(MailState.Unconfirmed, await StateAsync("Ben"));
        Assert.Equal((MailState.Sent, MailState.Sent), (await StateAsync("Ana"), await StateAsync("Zoe")));
    }

    [Fact]
    public async Task A_relay_that_answers_a_letter_at_a_time_is_waited_for()
    {
        await using var relay = new ScriptedRelay();
        // Each answer takes longer than the limit for one word of it.
        relay.Do = (_, to) => Task.FromResult(to == Victim ? new Trick(Drip: TimeSpan.FromMilliseconds(300)) : null);
        await PutAllAsync();

        Assert.Equal(MailRun.Nothing with { Sent = 3 }, await Sender(Quick(relay.Port)).SendDueAsync(CancellationToken.None));

        Assert.Equal(3, relay.Contents.Count);
    }

    [Fact]
    public async Task A_relay_that_hangs_up_after_each_mail_or_at_QUIT_costs_nothing()
    {
        await using var relay = new ScriptedRelay();
        relay.Do = (point, _) => Task.FromResult(point is At.Taken or At.Quit ? new Trick(HangUp: true) : null);
        await PutAllAsync();

        Assert.Equal(MailRun.Nothing with { Sent = 3 }, await SendAsync(relay.Port));

        Assert.Equal(3, relay.Contents.Count);
    }

    [Fact]
    public async Task After_two_hours_without_a_relay_a_thousand_mails_leave_the_most_urgent_first()
    {
        var port = MailboxServer.FreePort();
        var random = new Random(91);
        var mails = Enumerable.Range(1, 1000).Select(i => Mail($"P{i:0000}", Morning + Duration.FromMinutes(random.Next(60, 600)))).ToArray();
        await PutAsync(mails);
        for (var minutes = 0; minutes < 120; minutes += 5)
        {
            var down = await SendAsync(port);
            Assert.NotNull(down.Problem);
            Clock.AdvanceMinutes(5);
        }

        await using var relay = new ScriptedRelay(port);
        var run = await SendAsync(port);

        var late = mails.Count(mail => mail.NotAfter <= Clock.GetCurrentInstant());
        Assert.InRange(late, 1, 999);
        Assert.Equal(1000 - late, run.Sent);
        var order = mails.ToDictionary(mail => mail.ToAddress, mail => mail.NotAfter);
        var sent = relay.Contents.Select(content => order[content.To]).ToList();
        Assert.Equal(sent.Order(), sent);
        Assert.Equal(1000 - late, relay.Contents.Select(content => content.MessageId).Distinct().Count());
        await using var store = Open();
        Assert.Equal(late, await store.Outbox.CountAsync(mail => mail.State == MailState.Expired));
        Assert.Equal(1000 - late, await store.Outbox.CountAsync(mail => mail.State == MailState.Sent && mail.Attempts == 1));
    }

    /// <summary>Does it the first time that the victim, or before the recipient is known anybody, comes to the point.</summary>
    private static Func<At, string, Task<Trick?>> Once(At at, Trick trick)
    {
        var left = 1;
        return (point, to) => Task.FromResult(point == at && (at < At.To || to.StartsWith("ben", StringComparison.Ordinal)) && left-- > 0 ? trick : null);
    }

    private Task PutAllAsync() => PutAsync(
        Mail("Ana", Morning + Duration.FromHours(6)), Mail("Ben", Morning + Duration.FromHours(7)), Mail("Zoe", Morning + Duration.FromHours(8)));

    /// <summary>For relays that say nothing: with little patience. With any other a slow machine would run out of it.</summary>
    private static MailOptions Quick(int port)
    {
        var options = Relay(port);
        options.Timeout = TimeSpan.FromSeconds(2);
        return options;
    }

    /// <summary>Rounds until nothing is left to do for now, five minutes apart.</summary>
    private async Task ThroughAsync(ScriptedRelay relay, bool far = false, bool quick = false)
    {
        var options = quick ? Quick(relay.Port) : Relay(relay.Port);
        if (far)
            options.Near = TimeSpan.Zero;
        for (var round = 0; round < 3; round++)
        {
            await Sender(options).SendDueAsync(CancellationToken.None);
            Clock.AdvanceMinutes(5);
        }
    }
}
