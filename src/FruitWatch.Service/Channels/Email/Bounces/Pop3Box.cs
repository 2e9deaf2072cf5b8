using MailKit.Net.Pop3;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>A mailbox over POP3 (RFC 1939). What was deleted is gone once the server has answered QUIT, and not before.</summary>
internal sealed class Pop3Box(BounceOptions options, TimeSpan timeout) : IReportBox
{
    public async Task<int> EmptyAsync(BoxLook look, CancellationToken stop)
    {
        using var client = new Pop3Client { Timeout = (int)timeout.TotalMilliseconds };
        var host = options.Host!.Trim();
        var security = SmtpConnection.SecurityOf(options.Security);
        var port = options.Port > 0 ? options.Port : security == MailKit.Security.SecureSocketOptions.SslOnConnect ? 995 : 110;
        await client.ConnectAsync(await Sockets.ConnectAsync(host, port, timeout, stop), host, port, security, stop);
        await client.AuthenticateAsync(options.UserName!, options.Password!, stop);
        var (all, gone) = (client.Count, 0);
        if (all > 0)
            gone = await EmptyAsync(client, options, look, stop);
        await client.DisconnectAsync(quit: true, stop);
        return all - gone;
    }

    private static async Task<int> EmptyAsync(Pop3Client client, BounceOptions options, BoxLook look, CancellationToken stop)
    {
        var sizes = await client.GetMessageSizesAsync(stop);
        // Numbers are given anew with each connection. A server without names for good has what was left looked at each time.
        var names = client.Capabilities.HasFlag(Pop3Capabilities.UIDL) ? await client.GetMessageUidsAsync(stop) : null;
        look.Keep(names ?? []);
        // Without TOP there is no look at the header alone, so that whole messages have to do.
        var top = client.Capabilities.HasFlag(Pop3Capabilities.Top);
        var gone = 0;
        for (var i = sizes.Count - 1; i >= 0 && !look.Enough; i--)
        {
            var (at, name) = (i, names?[i]);
            if (sizes[i] > BounceIntake.LongestMessage || !look.IsNew(name))
                continue;
            if (top && !await IsWorthReadingAsync(client, i, options, stop))
            {
                look.Leave(name);
                continue;
            }

            if (await look.TakeAsync(name, () => client.GetStreamAsync(at, headersOnly: false, stop), stop) != Handed.Taken)
                continue;
            await client.DeleteMessageAsync(i, stop);
            gone++;
        }

        return gone;
    }

    private static async Task<bool> IsWorthReadingAsync(Pop3Client client, int i, BounceOptions options, CancellationToken stop)
    {
        try
        {
            await using var stream = await client.GetStreamAsync(i, headersOnly: true, stop);
            return WorthReading.Is(await HeaderList.LoadAsync(stream, stop), options);
        }
        catch (Exception odd) when (odd is FormatException or MailKit.CommandException)
        {
            return false;
        }
    }
}
