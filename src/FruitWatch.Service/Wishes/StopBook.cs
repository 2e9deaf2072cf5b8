using FruitWatch.Model.Notices;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>Whose unsubscribe link it is, and what it ends.</summary>
internal sealed record StopSight(Person Person, string CooperativeName, StopTopic Topic)
{
    public bool Stopped => Topic == StopTopic.Digest ? Person.Digests == DigestWish.Never : Person.Urgent == UrgentWish.Never;
}

/// <summary>
/// What unsubscribe links do: at once, and as often as they are asked. They work for members who are not let in as well: nobody has to
/// sign in to be left alone.
/// </summary>
internal sealed class StopBook(StopLinks links, StoreFactory stores, IClock clock)
{
    private const int Attempts = 3;

    /// <summary>What a link leads to; null for one that is not ours, or of somebody who is no member any more. Changes nothing.</summary>
    public async Task<StopSight?> LookAsync(string token, CancellationToken stop)
    {
        if (links.Read(token) is not { } link || !Enum.IsDefined(link.Topic))
            return null;
        await using var store = stores.CreateDbContext();
        var found = await (
            from person in store.People.AsNoTracking()
            join cooperative in store.Cooperatives on person.CooperativeId equals cooperative.Id
            where person.Id == link.PersonId
            select new { person, cooperative.Name }).SingleOrDefaultAsync(stop);
        return found is null ? null : new StopSight(found.person, found.Name, link.Topic);
    }

    /// <summary>Ends what the link is for.</summary>
    public Task<StopSight?> StopAsync(string token, CancellationToken stop) => ChangeAsync(
        token,
        (row, topic) =>
        {
            if (topic == StopTopic.Digest)
                row.Digests = DigestWish.Never;
            else
                row.Urgent = UrgentWish.Never;
        },
        stop);

    /// <summary>Begins again what the link has ended.</summary>
    public Task<StopSight?> StartAsync(string token, CancellationToken stop) => ChangeAsync(
        token,
        (row, topic) =>
        {
            if (topic == StopTopic.Digest && row.Digests == DigestWish.Never)
                row.Digests = DigestWish.EveryMorning;
            if (topic == StopTopic.Urgent && row.Urgent == UrgentWish.Never)
                row.Urgent = UrgentWish.InWakingHours;
        },
        stop);

    /// <summary>Changes what somebody is told in mails.</summary>
    public Task<StopSight?> ChooseAsync(string token, DigestWish digests, UrgentWish urgent, IEnumerable<NoticeKind> leftOut, CancellationToken stop) => ChangeAsync(
        token, (row, _) => (row.Digests, row.Urgent, row.KindsLeftOut) = (digests, urgent, PersonWishes.Kept(leftOut)), stop);

    private async Task<StopSight?> ChangeAsync(string token, Action<Person, StopTopic> change, CancellationToken stop)
    {
        for (var attempt = 1; ; attempt++)
        {
            if (await LookAsync(token, stop) is not { } sight)
                return null;
            try
            {
                // In their cooperative and in their name; a person's own row is seen in every reach.
                var reach = new Reach();
                reach.Open(sight.Person, growersReadAll: true, Deeds.DeedBook.Via, clock);
                await using var store = stores.CreateDbContext(reach);
                var row = await store.People.SingleAsync(person => person.Id == sight.Person.Id, stop);
                change(row, sight.Topic);
                await store.SaveChangesAsync(stop);
                return sight with { Person = row };
            }
            catch (DbUpdateConcurrencyException) when (attempt < Attempts)
            {
                // Their settings were saved at the same moment: once more, on top of that.
            }
        }
    }
}
