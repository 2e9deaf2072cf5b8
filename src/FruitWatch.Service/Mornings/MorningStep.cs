using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Silences;
using FruitWatch.Service.Urgent;
using FruitWatch.Store;
using NodaTime;

namespace FruitWatch.Service.Mornings;

/// <summary>All that is due, once and in order: rounds, digests, silent feeds, mail. The jobs do the rounds one by one.</summary>
internal sealed class MorningStep(StoreFactory stores, MorningRound round, DigestRound digests, UrgentLook look, UrgentRound urgent, SilenceRound silences, MailSender mail, IClock clock)
{
    public async Task RunAsync(CancellationToken stop)
    {
        await using (var store = stores.CreateDbContext())
        {
            foreach (var due in await DueMornings.FindAsync(store, clock.GetCurrentInstant(), stop))
                await round.RunAsync(due, stop);
        }

        await TellAsync(stop);
    }

    /// <summary>
    /// What follows the rounds: looks at newer forecasts, composes what is due, tells of feeds that are silent, and empties the outbox.
    /// One that fails does not keep the others from their work.
    /// </summary>
    /// <exception cref="AggregateException">Some failed; all were tried.</exception>
    public async Task TellAsync(CancellationToken stop)
    {
        var faults = new List<Exception>();
        foreach (Func<CancellationToken, Task<object>> part in new Func<CancellationToken, Task<object>>[]
        {
            async s => await look.RunAsync(s),
            async s => await digests.ComposeDueAsync(s),
            async s => await urgent.ComposeAsync(s),
            async s => await silences.ComposeAsync(s),
            async s => await mail.SendDueAsync(s),
        })
        {
            try
            {
                await part(stop);
            }
            catch (Exception fault) when (!stop.IsCancellationRequested)
            {
                faults.Add(fault);
            }
        }

        if (faults.Count > 0)
            throw new AggregateException("Not all of a tick could be done.", faults);
    }
}
