using MailKit;
using MailKit.Net.Imap;
using MailKit.Search;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>The inbox of a mailbox over IMAP (RFC 9051).</summary>
internal sealed class ImapBox(BounceOptions options, TimeSpan timeout) : IReportBox
{
    public async Task<int> EmptyAsync(int most, Func<MimeMessage, Task<bool>> take, CancellationToken stop)
    {
        using var client = new ImapClient { Timeout = (int)timeout.TotalMilliseconds };
        var host = options.Host!.Trim();
        var security = SmtpConnection.SecurityOf(options.Security);
        var port = options.Port > 0 ? options.Port : security == MailKit.Security.SecureSocketOptions.SslOnConnect ? 993 : 143;
        await client.ConnectAsync(await Sockets.ConnectAsync(host, port, timeout, stop), host, port, security, stop);
        await client.AuthenticateAsync(options.UserName!, options.Password!, stop);
        var inbox = client.Inbox ?? throw new MailException("The mailbox of bounces has no inbox.");
        await inbox.OpenAsync(FolderAccess.ReadWrite, stop);
        var all = inbox.Count;
        var found = await inbox.SearchAsync(
            SearchQuery.NotDeleted.And(SearchQuery.HeaderContains("Content-Type", "multipart/")).And(SearchQuery.SmallerThan(BounceIntake.LongestMessage)), stop);
        var gone = new List<UniqueId>();
        foreach (var id in found.Take(most))
        {
            using var message = await inbox.GetMessageAsync(id, stop);
            if (!await take(message))
                continue;
            await inbox.AddFlagsAsync(id, MessageFlags.Deleted, silent: true, stop);
            gone.Add(id);
        }

        if (gone.Count > 0)
            await inbox.ExpungeAsync(gone, stop);
        await client.DisconnectAsync(quit: true, stop);
        return all - gone.Count;
    }
}
