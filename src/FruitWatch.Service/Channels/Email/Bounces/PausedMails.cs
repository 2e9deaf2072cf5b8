using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Mails that wait for an address to which nothing is sent any more.</summary>
internal static class PausedMails
{
    /// <summary>What stands with them in the list.</summary>
    public const string Why = "Not sent: mail to this address came back, so that it is written to no more, until it is corrected or a coordinator lets it be tried again.";

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

    /// <summary>Lets those wait again that were ended for nothing, where they are still of use.</summary>
    public static Task<int> TakeUpAsync(FruitWatchStore store, long personId, Instant now, CancellationToken stop) => store.Outbox
        .Where(mail => mail.PersonId == personId && mail.State == MailState.Expired && mail.LastError == Why && mail.NotAfter > now)
        .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Pending).SetProperty(row => row.LastError, (string?)null), stop);

    /// <summary>How the keys of mails begin that tell coordinators of somebody's address.</summary>
    public static string NotesAbout(long personId) => FormattableString.Invariant($"address-paused:{personId}:");
}
