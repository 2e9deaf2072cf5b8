using System.Globalization;
using MailKit;
using MailKit.Net.Imap;
using MailKit.Search;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>The inbox of a mailbox over IMAP (RFC 9051).</summary>
internal sealed class ImapBox(BounceOptions options, TimeSpan timeout) : IReportBox
{
    /// <summary>Marks what was left, where the server keeps marks: so that a start, or another server, does not read it again.</summary>
    public const string Mark = "FruitWatchLeft";

    public async Task<int> EmptyAsync(BoxLook look, CancellationToken stop)
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
        var marks = inbox.PermanentFlags.HasFlag(MessageFlags.UserDefined);
        SearchQuery wanted = SearchQuery.NotDeleted.And(WorthReading.Query(options)).And(SearchQuery.SmallerThan(BounceIntake.LongestMessage));
        var found = await inbox.SearchAsync(marks ? wanted.And(SearchQuery.NotKeyword(Mark)) : wanted, stop);
        string NameOf(UniqueId id) => string.Create(CultureInfo.InvariantCulture, $"{inbox.UidValidity}:{id.Id}");
        look.Keep(found.Select(NameOf));
        var (gone, left) = (new List<UniqueId>(), new List<UniqueId>());
        foreach (var id in found.OrderByDescending(id => id.Id).Where(id => look.IsNew(NameOf(id))))
        {
            if (look.Enough)
                break;
            switch (await look.TakeAsync(NameOf(id), () => inbox.GetStreamAsync(id, stop), stop))
            {
                case Handed.Taken:
                    await inbox.AddFlagsAsync(id, MessageFlags.Deleted, silent: true, stop);
                    gone.Add(id);
                    break;
                case Handed.Left:
                    left.Add(id);
                    break;
            }
        }

        if (gone.Count > 0)
            await inbox.ExpungeAsync(gone, stop);
        if (marks && left.Count > 0)
            await MarkAsync(inbox, left, stop);
        await client.DisconnectAsync(quit: true, stop);
        return all - gone.Count;
    }

    private static async Task MarkAsync(IMailFolder inbox, List<UniqueId> left, CancellationToken stop)
    {
        try
        {
            await inbox.StoreAsync(left, new StoreFlagsRequest(StoreAction.Add, MessageFlags.None, [Mark]) { Silent = true }, stop);
        }
        catch (CommandException)
        {
            // They are remembered here, which does until the next start.
        }
    }
}
