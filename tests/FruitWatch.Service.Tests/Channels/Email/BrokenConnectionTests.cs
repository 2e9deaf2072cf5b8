using FruitWatch.Service.Channels.Email;
using FruitWatch.Store.Entities;
using Break = FruitWatch.Service.Tests.Channels.Email.BreakingServer.Break;

namespace FruitWatch.Service.Tests.Channels.Email;

public sealed class BrokenConnectionTests : SenderTests
{
    [Theory]
    [InlineData(Break.AtSender)]
    [InlineData(Break.AtRecipient)]
    [InlineData(Break.AtData)]
    internal async Task Broken_before_the_content_it_is_sent_again_and_arrives_once(Break at)
    {
        await using var server = new BreakingServer(at, times: 1);
        await PutAsync(Mail("Ana"));

        Assert.Equal(MailRun.Nothing with { Later = 1 }, await SendAsync(server.Port));
        Assert.DoesNotContain(MailMark.InDoubt, (await RowAsync("Ana")).LastError, StringComparison.Ordinal);
        Clock.AdvanceMinutes(5);
        Assert.Equal(MailRun.Nothing with { Sent = 1 }, await SendAsync(server.Port));

        Assert.Single(server.Contents);
    }

    [Fact]
    public async Task Broken_before_the_greeting_no_attempt_is_counted()
    {
        await using var server = new BreakingServer(Break.BeforeGreeting, times: 1);
        await PutAsync(Mail("Ana"));

        Assert.NotNull((await SendAsync(server.Port)).Problem);
        Assert.Equal(0, (await RowAsync("Ana")).Attempts);
        Assert.Equal(MailRun.Nothing with { Sent = 1 }, await SendAsync(server.Port));
    }

    [Theory]
    [InlineData(Break.AfterContent)]
    [InlineData(Break.SilentAfterContent)]
    internal async Task Broken_after_the_content_it_is_sent_once_more_as_the_same_message(Break at)
    {
        await using var server = new BreakingServer(at, times: 1);
        await PutAsync(Mail("Ana"));
        var options = Relay(server.Port);
        if (at == Break.SilentAfterContent)
            options.Timeout = TimeSpan.FromSeconds(2);

        Assert.Equal(MailRun.Nothing with { Later = 1 }, await Sender(options).SendDueAsync(CancellationToken.None));
        Clock.AdvanceMinutes(5);
        Assert.Equal(MailRun.Nothing with { Sent = 1 }, await SendAsync(server.Port));

        Assert.Equal(2, server.Contents.Count);
        Assert.Contains("Message-Id: <digest.Ana.2026-10-05@alder.invalid>", server.Contents.First(), StringComparison.OrdinalIgnoreCase);
        Assert.Single(server.Contents.Distinct()); // byte for byte
        Assert.Equal(MailState.Sent, await StateAsync("Ana"));
    }

    [Fact]
    public async Task Broken_twice_after_the_content_it_is_left_unconfirmed()
    {
        await using var server = new BreakingServer(Break.AfterContent, times: 9);
        await PutAsync(Mail("Ana"));

        Assert.Equal(MailRun.Nothing with { Later = 1 }, await SendAsync(server.Port));
        Clock.AdvanceMinutes(5);
        Assert.Equal(MailRun.Nothing with { Unconfirmed = 1 }, await SendAsync(server.Port));
        Clock.AdvanceMinutes(120);
        Assert.Equal(MailRun.Nothing, await SendAsync(server.Port));

        Assert.Equal(2, server.Contents.Count);
        var row = await RowAsync("Ana");
        Assert.Equal(MailState.Unconfirmed, row.State);
        Assert.StartsWith(MailMark.InDoubt, row.LastError, StringComparison.Ordinal);
    }

    /// <summary>Killed after the content it may have arrived: at most one more copy goes out, and a refusal of that one says nothing of the first.</summary>
    [Fact]
    public async Task A_mail_over_which_a_sender_died_is_in_doubt_and_sent_once_more_at_most()
    {
        await using var server = new BreakingServer(Break.AfterContent, times: 9);
        await PutAsync(Mail("Ana"), Mail("Ben"));
        await DieAsync();

        Assert.Equal(MailRun.Nothing with { Unconfirmed = 1, Later = 1 }, await SendAsync(server.Port));

        Assert.Equal(MailState.Unconfirmed, await StateAsync("Ana"));
        Assert.Equal(MailState.Pending, await StateAsync("Ben")); // it was claimed and not begun: in doubt only now
        Clock.AdvanceMinutes(120);
        Assert.Equal(MailRun.Nothing with { Unconfirmed = 1 }, await SendAsync(server.Port));
        Assert.Equal(3, server.Contents.Count);
    }

    [Fact]
    public async Task Refused_after_a_sender_died_over_it_it_is_unconfirmed_and_counts_as_no_bounce()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = _ => 550;
        await PutAsync(Mail("Ana"), Mail("Ben"));
        await DieAsync();

        Assert.Equal(MailRun.Nothing with { Unconfirmed = 1, Failed = 1 }, await SendAsync(server.Port));

        Assert.Equal((MailState.Unconfirmed, MailState.Failed), (await StateAsync("Ana"), await StateAsync("Ben")));
        Assert.StartsWith(MailMark.InDoubt, (await RowAsync("Ana")).LastError, StringComparison.Ordinal);
    }

    private async Task DieAsync()
    {
        await using (var store = Open())
            Assert.Equal(2, (await Store.Queries.Outbox.ClaimAsync(store, "killed", Clock.GetCurrentInstant(), NodaTime.Duration.FromMinutes(5), 20)).Count);
        Clock.AdvanceMinutes(5);
    }

    [Fact]
    public async Task One_that_may_have_arrived_is_not_called_expired()
    {
        await using var server = new BreakingServer(Break.AfterContent, times: 1);
        await PutAsync(Mail("Ana"));
        await SendAsync(server.Port);

        Clock.AdvanceHours(7);

        Assert.Equal(1, (await SendAsync(server.Port)).Expired);
        Assert.Equal(MailState.Unconfirmed, await StateAsync("Ana"));
    }

    [Fact]
    public async Task Broken_in_the_middle_of_the_content_it_counts_as_in_doubt()
    {
        await using var server = new BreakingServer(Break.InContent, times: 1);
        var mail = Mail("Ana");
        mail.TextBody = string.Concat(Enumerable.Repeat("Water: 25 litres\n", 200_000)); // more than the connection holds at once
        await PutAsync(mail);

        Assert.Equal(1, (await SendAsync(server.Port)).Later);

        Assert.StartsWith(MailMark.InDoubt, (await RowAsync("Ana")).LastError, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_relay_that_hangs_up_between_two_mails_costs_the_second_nothing()
    {
        await using var server = new BreakingServer(Break.AtSender, times: 0);
        await using var route = new SmtpRoute(Relay(server.Port), Returns(Relay(server.Port)));
        using var first = MailMessage.Of(Mail("Ana"), Relay(server.Port));
        Assert.Equal(Outcome.Sent, (await route.DeliverAsync(Mail("Ana"), first, CancellationToken.None)).Outcome);

        server.BreakNext(1);

        using var second = MailMessage.Of(Mail("Ben"), Relay(server.Port));
        Assert.Equal(Outcome.Sent, (await route.DeliverAsync(Mail("Ben"), second, CancellationToken.None)).Outcome);
        Assert.Equal(2, server.Contents.Count);
    }
}
