using FruitWatch.Store;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Mails that wait for an address to which nothing is sent any more.</summary>
internal static class PausedMails
{
    /// <summary>What stands with them in the list.</summary>
    public const string Why = "Not sent: mail to this address came back, so that it is written to no more. A coordinator can correct it, or let it be tried again.";

    /// <summary>Ends those that wait, as far as nobody asked for them a moment ago.</summary>
    public static Task<int> EndAsync(FruitWatchStore store, long personId, Instant now, CancellationToken stop) =>
        WaitingMails.EndAllAsync(store, personId, Why, now, stop);
}
