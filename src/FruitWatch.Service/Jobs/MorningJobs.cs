using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Mornings;
using FruitWatch.Store;
using Hangfire;
using NodaTime;

namespace FruitWatch.Service.Jobs;

/// <summary>
/// Looks for what is due and does it, one job a site. Every job may run twice or at the same time as itself: the store's unique
/// keys make the effect happen once.
/// </summary>
[AutomaticRetry(Attempts = 3, DelaysInSeconds = [60, 300, 900], OnAttemptsExceeded = AttemptsExceededAction.Fail)]
internal sealed class MorningJobs(
    StoreFactory stores, MorningRound round, DigestRound digests, MailSender mail, IClock clock, IBackgroundJobClient jobs)
{
    /// <summary>Finds the sites whose morning has come and starts a job for each.</summary>
    public async Task TickAsync(CancellationToken stop)
    {
        await using (var store = stores.CreateDbContext())
        {
            foreach (var due in await DueMornings.FindAsync(store, clock.GetCurrentInstant(), stop))
                jobs.Enqueue<MorningJobs>(job => job.RoundAsync(due.SiteId, CancellationToken.None));
        }

        // What an earlier round left to do: a digest that waited for a site, a mail to be tried again.
        await SendAsync(stop);
    }

    /// <summary>The round of a site, if it is still due, and the digests that were waiting for it.</summary>
    public async Task RoundAsync(long siteId, CancellationToken stop)
    {
        await using (var store = stores.CreateDbContext())
        {
            // Asked again: since the job was queued the morning may have been done, or have passed.
            var due = (await DueMornings.FindAsync(store, clock.GetCurrentInstant(), stop)).SingleOrDefault(d => d.SiteId == siteId);
            if (due is not null)
                await round.RunAsync(due, stop);
        }

        await SendAsync(stop);
    }

    private async Task SendAsync(CancellationToken stop)
    {
        await digests.ComposeDueAsync(stop);
        await mail.SendDueAsync(stop);
    }
}
