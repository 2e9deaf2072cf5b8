using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>
/// An hour in which mail to so many comes back that the mailboxes cannot be the reason: the relay is, or its name is bad, or the
/// settings are. What came back then counts against nobody.
/// </summary>
internal static class BounceStorm
{
    /// <summary>Members whose mail came back, of whatever cooperative, at least.</summary>
    public const int Least = 5;

    /// <summary>They are at least one in so many of those who were mailed in the hour.</summary>
    public const int OneIn = 2;

    public static readonly Duration Within = Duration.FromHours(1);

    /// <summary>Whether a moment lies in such an hour, at its beginning or at its end.</summary>
    public static async Task<bool> AroundAsync(FruitWatchStore store, Instant at, CancellationToken stop) =>
        await InAsync(store, at - Within, at, stop) || await InAsync(store, at, at + Within, stop);

    // All cooperatives: one relay sends for all of them.
    private static async Task<bool> InAsync(FruitWatchStore store, Instant from, Instant to, CancellationToken stop)
    {
        var bounces = store.Bounces.IgnoreQueryFilters().Where(bounce => bounce.At >= from && bounce.At <= to);
        var back = await bounces.Select(bounce => bounce.PersonId).Distinct().CountAsync(stop);
        if (back < Least)
            return false;
        // One that was sent then was of use then, for which there is an index.
        var sent = store.Outbox.IgnoreQueryFilters()
            .Where(mail => mail.State == MailState.Sent && mail.NotAfter >= from && mail.SentAt >= from && mail.SentAt <= to && mail.PersonId != null)
            .Select(mail => mail.PersonId!.Value);
        var mailed = await sent.Union(bounces.Select(bounce => bounce.PersonId)).CountAsync(stop);
        return back * OneIn >= mailed;
    }
}
