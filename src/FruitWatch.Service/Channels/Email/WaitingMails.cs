using FruitWatch.Service.Digests;
using FruitWatch.Service.People;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Urgent;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// Mails to somebody that wait and are no longer to go out. To be ended in the transaction of what ends them: whoever is told that they
/// get no more gets no more. One that may have been taken at an earlier attempt is not called expired.
/// </summary>
internal static class WaitingMails
{
    /// <summary>What stands with those that their reader has ended.</summary>
    public const string NotWanted = "Not sent: its reader wants no more of these mails, or is away.";

    /// <summary>What stands with those of somebody who is let in no more.</summary>
    public const string NotLetIn = "Not sent: the member is not let in any more.";

    /// <summary>What stands with those to an address that is no longer somebody's.</summary>
    public const string Moved = "Not sent: the member has another address now.";

    /// <summary>Ends all but those about accounts and invitations, which somebody asked for a moment ago.</summary>
    public static Task<int> EndAllAsync(FruitWatchStore store, long personId, string why, Instant now, CancellationToken stop) =>
        EndAsync(Of(store, personId).Where(mail => !mail.Key.StartsWith(AccountMails.KeyPrefix) && !mail.Key.StartsWith(Invitations.KeyPrefix)), why, now, stop);

    /// <summary>Ends the morning mails.</summary>
    public static Task<int> EndDigestsAsync(FruitWatchStore store, long personId, string why, Instant now, CancellationToken stop) =>
        EndAsync(Of(store, personId).Where(mail => mail.Key.StartsWith(DigestRound.KeyPrefix)), why, now, stop);

    /// <summary>Ends urgent mails, and those that take them back.</summary>
    public static Task<int> EndUrgentAsync(FruitWatchStore store, long personId, string why, Instant now, CancellationToken stop) =>
        EndAsync(Urgent(store, personId), why, now, stop);

    /// <summary>Ends urgent mails, and those that take them back, that tell of some beds and of nothing else.</summary>
    public static Task<int> EndUrgentOfAsync(FruitWatchStore store, long personId, IEnumerable<long> bedIds, string why, Instant now, CancellationToken stop)
    {
        var beds = bedIds.ToArray();
        var about = Urgent(store, personId).Where(mail => store.DigestNotices.Any(told => told.MailId == mail.Id)
            && !store.DigestNotices.Any(told => told.MailId == mail.Id
                && !store.Notices.Any(notice => notice.Id == told.NoticeId && notice.BedId != null && EF.Parameter(beds).Contains(notice.BedId.Value))));
        return beds.Length == 0 ? Task.FromResult(0) : EndAsync(about, why, now, stop);
    }

    private static IQueryable<OutgoingMail> Urgent(FruitWatchStore store, long personId) =>
        Of(store, personId).Where(mail => mail.Key.StartsWith(UrgentRound.KeyPrefix) || mail.Key.StartsWith(UrgentRound.BackPrefix));

    private static IQueryable<OutgoingMail> Of(FruitWatchStore store, long personId) => store.Outbox.Where(mail => mail.PersonId == personId);

    private static async Task<int> EndAsync(IQueryable<OutgoingMail> theirs, string why, Instant now, CancellationToken stop)
    {
        // What is leaving this moment leaves; should it come back to wait, its time has passed.
        await theirs.Where(mail => mail.State == MailState.Sending && mail.NotAfter > now)
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.NotAfter, now), stop);
        var waiting = theirs.Where(mail => mail.State == MailState.Pending);
        var doubtful = await waiting.Where(mail => mail.LastError!.StartsWith(MailMark.InDoubt))
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Unconfirmed), stop);
        return doubtful + await waiting
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Expired).SetProperty(row => row.LastError, why), stop);
    }
}
