using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>That nothing more is sent to somebody's address.</summary>
internal static class MailPause
{
    /// <summary>Stands in mails that are finished in the place of links that act; those are of no use any more.</summary>
    private const string NoDeed = "/do/" + MailSecrets.Instead;

    private const string NoStop = "/stop/" + MailSecrets.Instead;

    /// <summary>Mail is sent to them again: the address was corrected, or its holder has shown that mail arrives there.</summary>
    public static void End(Person person) => (person.MailPausedAt, person.MailPausedWhy) = (null, null);

    /// <summary>How the keys of mails begin that tell coordinators of somebody's address.</summary>
    public static string NotesAbout(long personId) => FormattableString.Invariant($"address-paused:{personId}:");

    /// <summary>Takes back what followed from a pause that should not have been: what waited waits again, and nobody is told.</summary>
    public static async Task TakeBackAsync(FruitWatchStore store, long personId, Instant now, CancellationToken stop)
    {
        await store.Outbox
            .Where(mail => mail.PersonId == personId && mail.State == MailState.Expired && mail.LastError == PausedMails.Why && mail.NotAfter > now
                && !mail.TextBody.Contains(NoDeed) && !mail.TextBody.Contains(NoStop))
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Pending).SetProperty(row => row.LastError, (string?)null), stop);
        var notes = NotesAbout(personId);
        await store.Outbox.Where(mail => mail.Key.StartsWith(notes) && mail.State == MailState.Pending).ExecuteDeleteAsync(stop);
    }
}
