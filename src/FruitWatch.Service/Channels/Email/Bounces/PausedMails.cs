using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Mails that wait for an address to which nothing is sent any more.</summary>
internal static class PausedMails
{
    /// <summary>What stands with them in the list.</summary>
    public const string Why = "Not sent: mail to this address came back, so that it is written to no more. A coordinator can correct it, or let it be tried again.";

    /// <summary>
    /// Ends those that wait. Mails about accounts and invitations stay: somebody asked for them a moment ago. One that may have been taken
    /// at its first attempt is not called expired.
    /// </summary>
    public static async Task<int> EndAsync(FruitWatchStore store, long personId, CancellationToken stop)
    {
        var waiting = store.Outbox.Where(mail => mail.PersonId == personId && mail.State == MailState.Pending
            && !mail.Key.StartsWith("account:") && !mail.Key.StartsWith("invitation:"));
        var doubtful = await waiting.Where(mail => mail.LastError!.StartsWith(MailMark.InDoubt))
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Unconfirmed), stop);
        return doubtful + await waiting
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Expired).SetProperty(row => row.LastError, Why), stop);
    }
}
