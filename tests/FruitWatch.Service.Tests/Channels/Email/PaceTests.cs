using System.Net;
using System.Net.Sockets;
using FruitWatch.Service.Channels.Email;
using Microsoft.Extensions.Time.Testing;

namespace FruitWatch.Service.Tests.Channels.Email;

public sealed class PaceTests : SenderTests
{
    [Fact]
    public async Task Mails_leave_at_the_pace_that_is_set_over_one_connection()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"), Mail("Ben"), Mail("Zoe"));
        var time = new FakeTimeProvider();
        var options = Relay(server.Port);
        options.PerMinute = 2;

        var sending = Sender(options, time: time).SendDueAsync(CancellationToken.None);
        for (var sent = 1; sent <= 3; sent++)
        {
            await UntilAsync(() => server.Taken.Count == sent);
            // Not one earlier than half a minute after the one before.
            time.Advance(TimeSpan.FromSeconds(29));
            await Task.Delay(50);
            Assert.Equal(sent, server.Taken.Count);
            time.Advance(TimeSpan.FromSeconds(1));
        }

        Assert.Equal(3, (await sending).Sent);
        Assert.Equal(1, server.Connections);
    }

    [Fact]
    public async Task A_clock_that_is_set_back_holds_no_mail()
    {
        var time = new SetClock();
        var options = Relay(25);
        options.PerMinute = 2;
        var pace = new MailPace(options, time);
        await pace.WaitAsync(CancellationToken.None);

        time.SetBack = TimeSpan.FromHours(2);
        var next = pace.WaitAsync(CancellationToken.None);
        Assert.False(next.IsCompleted);
        time.Advance(TimeSpan.FromSeconds(30));

        await next.WaitAsync(TimeSpan.FromSeconds(20));
    }

    [Fact]
    public async Task One_sender_works_one_waits_to_look_again_and_a_third_has_nothing_to_do()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"), Mail("Ben"));
        var time = new FakeTimeProvider();
        var options = Relay(server.Port);
        options.PerMinute = 1;
        var sender = Sender(options, time: time);
        var first = sender.SendDueAsync(CancellationToken.None);
        await UntilAsync(() => server.Taken.Count == 1);

        var second = sender.SendDueAsync(CancellationToken.None);
        Assert.Equal(MailRun.Nothing, await sender.SendDueAsync(CancellationToken.None));
        Assert.False(second.IsCompleted);

        time.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(2, (await first).Sent);
        Assert.Equal(MailRun.Nothing, await second);
        Assert.Equal(2, server.Taken.Count);
    }

    [Fact]
    public async Task Told_to_stop_while_it_waits_it_gives_the_mail_back()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"), Mail("Ben"));
        var options = Relay(server.Port);
        options.PerMinute = 2;
        using var stop = new CancellationTokenSource();
        var sending = Sender(options, time: new FakeTimeProvider()).SendDueAsync(stop.Token);
        await UntilAsync(() => server.Taken.Count == 1);

        await stop.CancelAsync();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => sending);
        var row = await RowAsync("Ben");
        Assert.Equal((Store.Entities.MailState.Pending, 0, null), (row.State, row.Attempts, row.Owner));
    }

    [Fact]
    public async Task Every_address_of_a_relay_is_tried_and_small_packets_are_not_held_back()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port;

        using var socket = await Sockets.ConnectAsync(
            "relay.invalid", port, TimeSpan.FromSeconds(5), (_, _) => Task.FromResult<IPAddress[]>([IPAddress.Parse("127.0.0.9"), IPAddress.Loopback]), CancellationToken.None);

        Assert.True(socket.NoDelay);
        Assert.Equal(IPAddress.Loopback, ((IPEndPoint)socket.RemoteEndPoint!).Address);
        await Assert.ThrowsAsync<SocketException>(() => Sockets.ConnectAsync(
            "relay.invalid", port, TimeSpan.FromSeconds(5), (_, _) => Task.FromResult<IPAddress[]>([IPAddress.Parse("127.0.0.9")]), CancellationToken.None));
    }

    /// <summary>A clock on the wall, which somebody sets; what is measured by timestamps goes on.</summary>
    private sealed class SetClock : FakeTimeProvider
    {
        public TimeSpan SetBack { get; set; }

        public override DateTimeOffset GetUtcNow() => base.GetUtcNow() - SetBack;

        public override long GetTimestamp() => base.GetUtcNow().Ticks;
    }

    private static async Task UntilAsync(Func<bool> come)
    {
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(20));
        while (!come())
            await Task.Delay(10, limit.Token);
    }
}
