using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Mornings;
using FruitWatch.Store;
using Hangfire;
using NodaTime;

namespace FruitWatch.Service.Jobs;

/// <summary>
/// Looks for what is due and does it, one job a site. Every job may run twice or at the same time as itself: the store's unique
/// keys make the effect happen once.
/// </summary>
/// <remarks>A job that fails is not tried again by the engine: what it left undone is still due at the next tick.</remarks>
[AutomaticRetry(Attempts = 0)]
internal sealed class MorningJobs(
    StoreFactory stores, MorningRound round, MorningStep step, MailSender mail, IClock clock, IBackgroundJobClient jobs)
{
    /// <summary>Finds the sites whose morning has come and starts a job for each; sends what is ready.</summary>
    public async Task TickAsync(CancellationToken stop)
    {
        await using (var store = stores.CreateDbContext())
        {
            string? last = null;
            foreach (var due in await DueMornings.FindAsync(store, clock.GetCurrentInstant(), stop))
                last = jobs.Enqueue<MorningJobs>(job => job.RoundAsync(due.SiteId, CancellationToken.None));
            // Once for all sites, not once for each: looking for due digests looks at everybody.
            if (last is not null)
                jobs.ContinueJobWith<MorningJobs>(last, job => job.SendAsync(CancellationToken.None), options: JobContinuationOptions.OnAnyFinishedState);
        }

        // What an earlier tick left to do: a digest that waited for a site, a mail to be tried again.
        await SendAsync(stop);
    }

    /// <summary>The round of a site, if it is still due: since the job was queued it may have been done, or have passed.</summary>
    public async Task RoundAsync(long siteId, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        foreach (var due in await DueMornings.FindAsync(store, clock.GetCurrentInstant(), stop, siteId))
            await round.RunAsync(due, stop);
    }

    /// <summary>Composes the digests that are due, tells of feeds that are silent, and empties the outbox.</summary>
    public Task SendAsync(CancellationToken stop) => step.TellAsync(stop);

    /// <summary>Empties the outbox only.</summary>
    public async Task MailAsync(CancellationToken stop) => await mail.SendDueAsync(stop);
}
