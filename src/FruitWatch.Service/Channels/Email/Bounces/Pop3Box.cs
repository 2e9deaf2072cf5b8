using MailKit.Net.Pop3;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>A mailbox over POP3 (RFC 1939). What was deleted is gone once the server has answered QUIT, and not before.</summary>
internal sealed class Pop3Box(BounceOptions options, TimeSpan timeout) : IReportBox
{
    /// <summary>How many messages are looked at: those that are no reports stay, and must not hide what comes behind them.</summary>
    private const int Looked = 1000;

    public async Task<int> EmptyAsync(int most, Func<MimeMessage, Task<bool>> take, CancellationToken stop)
    {
        using var client = new Pop3Client { Timeout = (int)timeout.TotalMilliseconds };
        var host = options.Host!.Trim();
        var security = SmtpConnection.SecurityOf(options.Security);
        var port = options.Port > 0 ? options.Port : security == MailKit.Security.SecureSocketOptions.SslOnConnect ? 995 : 110;
        await client.ConnectAsync(await Sockets.ConnectAsync(host, port, timeout, stop), host, port, security, stop);
        await client.AuthenticateAsync(options.UserName!, options.Password!, stop);
        var all = client.Count;
        var count = Math.Min(all, Looked);
        if (count == 0)
        {
            await client.DisconnectAsync(quit: true, stop);
            return 0;
        }

        var sizes = await client.GetMessageSizesAsync(stop);
        // Without TOP there is no look at the header alone, so that whole messages have to do.
        var headers = client.Capabilities.HasFlag(Pop3Capabilities.Top) ? await HeadersAsync(client, count, stop) : null;
        var (handed, gone) = (0, 0);
        for (var i = 0; i < count && handed < most; i++)
        {
            if (headers is null ? sizes[i] > BounceIntake.LongestMessage : !ReportLooks.MayBe(headers[i], sizes[i]))
                continue;
            handed++;
            using var message = await client.GetMessageAsync(i, stop);
            if (!await take(message))
                continue;
            await client.DeleteMessageAsync(i, stop);
            gone++;
        }

        await client.DisconnectAsync(quit: true, stop);
        return all - gone;
    }

    // All of them: what the library gives as the headers of a message leaves those of its content out.
    private static async Task<IReadOnlyList<HeaderList>> HeadersAsync(Pop3Client client, int count, CancellationToken stop)
    {
        var read = new List<HeaderList>(count);
        foreach (var stream in await client.GetStreamsAsync(0, count, headersOnly: true, stop))
        {
            await using (stream)
                read.Add(await HeaderList.LoadAsync(stream, stop));
        }

        return read;
    }
}
