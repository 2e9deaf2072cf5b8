using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Silences;
using FruitWatch.Service.Urgent;
using FruitWatch.Store;
using NodaTime;

namespace FruitWatch.Service.Mornings;

/// <summary>All that is due, once and in order: rounds, digests, silent feeds, mail. The jobs do the same in parts.</summary>
internal sealed class MorningStep(StoreFactory stores, MorningRound round, DigestRound digests, UrgentLook look, UrgentRound urgent, SilenceRound silences, MailSender mail, IClock clock)
{
    public async Task RunAsync(CancellationToken stop)
    {
        await using (var store = stores.CreateDbContext())
        {
            foreach (var due in await DueMornings.FindAsync(store, clock.GetCurrentInstant(), stop))
                await round.RunAsync(due, stop);
        }

        await look.RunAsync(stop);
        await digests.ComposeDueAsync(stop);
        await urgent.ComposeAsync(stop);
        await silences.ComposeAsync(stop);
        await mail.SendDueAsync(stop);
    }
}
