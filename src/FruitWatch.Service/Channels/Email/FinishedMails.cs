using FruitWatch.Service.People;
using FruitWatch.Service.SignIn;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// What mails keep that are finished, in whatever way: what they said, without what is sealed, without links that act, and without the
/// header fields, in which the link and the address stand that unsubscribe for years. Of a mail about an account, such as a new password's, nothing is
/// kept: no page shows it, and its link lets somebody in. One that never went out is no exception: its links would act.
/// </summary>
internal static class FinishedMails
{
    private const int AtOnce = 200;

    /// <summary>Mails are of use for less; so those that ended while none was sent are met again.</summary>
    private static readonly Duration s_lately = Duration.FromDays(3);

    /// <summary>One that was just marked. Nothing, where it is not finished: its claim was lost, and another sender is at it.</summary>
    public static Task<int> ForgetAsync(FruitWatchStore store, OutgoingMail mail)
    {
        if (mail.Headers is null && !MailSecrets.HasAny(mail) && !IsOfAccount(mail.Key))
            return Task.FromResult(0);
        return HideAsync(store, new Held(mail.Id, mail.Key, mail.TextBody, mail.HtmlBody), CancellationToken.None);
    }

    /// <summary>Those that ended of late without having been sent: too late, superseded, taken back, or no longer wanted.</summary>
    public static async Task<int> ForgetEndedAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var since = now - s_lately;
        return await ForgetAsync(
            store, store.Outbox.Where(mail => (mail.State == MailState.Expired || mail.State == MailState.Unconfirmed) && mail.NotAfter > since), stop);
    }

    /// <summary>All that are finished, which older versions left as they were.</summary>
    public static Task<int> ForgetAllAsync(FruitWatchStore store, CancellationToken stop) =>
        ForgetAsync(store, store.Outbox.Where(mail => mail.State != MailState.Pending && mail.State != MailState.Sending), stop);

    private static async Task<int> ForgetAsync(FruitWatchStore store, IQueryable<OutgoingMail> finished, CancellationToken stop)
    {
        // Whatever has links that act has header fields too. What is hidden is not found again.
        var (last, hidden) = (0L, 0);
        while (true)
        {
            var some = await finished.AsNoTracking()
                .Where(mail => mail.Id > last
                    && (mail.Headers != null || (mail.Key.StartsWith(AccountMails.KeyPrefix) && mail.TextBody != "") || (mail.Key.StartsWith(Invitations.KeyPrefix) && (mail.TextBody.Contains("[sealed:") || mail.HtmlBody.Contains("[sealed:")))))
                .OrderBy(mail => mail.Id).Take(AtOnce).Select(mail => new Held(mail.Id, mail.Key, mail.TextBody, mail.HtmlBody)).ToListAsync(stop);
            foreach (var mail in some)
                hidden += await HideAsync(store, mail, stop);
            if (some.Count < AtOnce)
                return hidden;
            last = some[^1].Id;
        }
    }

    private static Task<int> HideAsync(FruitWatchStore store, Held mail, CancellationToken stop)
    {
        var (text, html) = IsOfAccount(mail.Key) ? ("", "") : (MailSecrets.Hide(mail.TextBody), MailSecrets.Hide(mail.HtmlBody));
        return store.Outbox
            .Where(row => row.Id == mail.Id && row.State != MailState.Pending && row.State != MailState.Sending)
            .ExecuteUpdateAsync(
                row => row.SetProperty(one => one.TextBody, text).SetProperty(one => one.HtmlBody, html).SetProperty(one => one.Headers, (string?)null), stop);
    }

    private static bool IsOfAccount(string key) => key.StartsWith(AccountMails.KeyPrefix, StringComparison.Ordinal);

    private sealed record Held(long Id, string Key, string TextBody, string HtmlBody);
}
