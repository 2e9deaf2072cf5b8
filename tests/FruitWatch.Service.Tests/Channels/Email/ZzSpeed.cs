using System.Diagnostics;
using MailKit.Net.Smtp;
using MailKit.Security;
namespace FruitWatch.Service.Tests.Channels.Email;
public sealed class ZzSpeed : SenderTests
{
    [Fact]
    public async Task Speed()
    {
        var w = Stopwatch.StartNew();
        for (var v = 0; v < 4; v++)
        {
            await using var server = await MailboxServer.StartAsync();
            using var client = new SmtpClient();
            if (v < 2)
                await client.ConnectAsync("127.0.0.1", server.Port, SecureSocketOptions.None);
            else
                await client.ConnectAsync(await Service.Channels.Email.Sockets.ConnectAsync("127.0.0.1", server.Port, TimeSpan.FromSeconds(5), default), "127.0.0.1", server.Port, SecureSocketOptions.None, default);
            if (v % 2 == 1)
                client.Capabilities &= ~SmtpCapabilities.Pipelining;
            w.Restart();
            for (var i = 0; i < 200; i++)
            {
                using var message = Service.Channels.Email.MailMessage.Of(Mail($"P{i}"), Relay(1));
                await client.SendAsync(message);
            }
            await File.AppendAllTextAsync("/tmp/smtp-speed.txt", $"variant {v} (0 MailKit, 1 MailKit no pipelining, 2 NoDelay, 3 NoDelay no pipelining): 200 in {w.Elapsed}\n");
        }
        await using var server2 = await MailboxServer.StartAsync();
        await PutAsync([.. Enumerable.Range(1, 400).Select(i => Mail($"Person{i}"))]);
        w.Restart();
        var run = await SendAsync(server2.Port);
        await File.AppendAllTextAsync("/tmp/smtp-speed.txt", $"sender with store {run.Sent} in {w.Elapsed}\n");
    }
}
