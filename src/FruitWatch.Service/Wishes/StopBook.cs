using FruitWatch.Model.Notices;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>Whose unsubscribe link it is, what it ends, and how far it reaches.</summary>
/// <param name="Person">Whose.</param>
/// <param name="CooperativeName">Where they are a member.</param>
/// <param name="Topic">What it ends.</param>
/// <param name="Most">The most that it can choose.</param>
/// <param name="Beds">Beds that they see and are told of: of these it can choose less.</param>
internal sealed record StopSight(Person Person, string CooperativeName, StopTopic Topic, StopLimit Most, IReadOnlyList<BedChoice> Beds)
{
    public bool Stopped => Topic == StopTopic.Digest ? Person.Digests == DigestWish.Never : Person.Urgent == UrgentWish.Never;

    /// <summary>Whether the link can begin again what has ended: only where such a link has ended it.</summary>
    public bool MayStart => Topic == StopTopic.Digest ? Most.Digests != DigestWish.Never : Most.Urgent != UrgentWish.Never;

    /// <summary>Whether the other kind of mails comes.</summary>
    public bool OtherComes => Topic == StopTopic.Digest ? Person.Urgent != UrgentWish.Never : Person.Digests != DigestWish.Never;
}

/// <summary>
/// What unsubscribe links and addresses do: at once, and as often as they are asked. They work for members who are not let in as well: nobody has to
/// sign in to be left alone. For more than somebody has chosen they have to sign in: a mail may have been passed on.
/// </summary>
internal sealed class StopBook(StopLinks links, StoreFactory stores, IClock clock)
{
    private const int Attempts = 3;

    /// <summary>What a link leads to; null for one that is not ours, or of somebody who is no member any more. Changes nothing.</summary>
    public async Task<StopSight?> LookAsync(string token, CancellationToken stop) =>
        links.Read(token) is { } link && Enum.IsDefined(link.Topic) ? await LookAsync(link, stop) : null;

    private async Task<StopSight?> LookAsync(StopLink link, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var found = await (
            from person in store.People.AsNoTracking()
            join cooperative in store.Cooperatives on person.CooperativeId equals cooperative.Id
            where person.Id == link.PersonId
            select new { person, cooperative.Name, cooperative.GrowersReadAll }).SingleOrDefaultAsync(stop);
        return found is null ? null : new StopSight(
            found.person, found.Name, link.Topic, await StopLimit.OfAsync(store, found.person, stop), await BedsAsync(found.person, found.GrowersReadAll, stop));
    }

    /// <summary>Within what they see themselves; somebody who is not let in sees nothing.</summary>
    private async Task<IReadOnlyList<BedChoice>> BedsAsync(Person person, bool growersReadAll, CancellationToken stop)
    {
        if (!person.Active)
            return [];
        var reach = new Reach();
        reach.Open(person, growersReadAll, Deeds.DeedBook.Via, clock);
        await using var store = stores.CreateDbContext(reach);
        return [.. (await BedChoice.OfAsync(store, person.Id, stop)).Where(bed => bed.Told)];
    }

    /// <summary>Ends what the link is for.</summary>
    public Task<StopSight?> StopAsync(string token, CancellationToken stop) => ChangeAsync(token, Stop, stop);

    /// <summary>The same for who has shown an address of <see cref="StopAddresses"/>.</summary>
    public Task<StopSight?> StopAsync(StopLink link, CancellationToken stop) => ChangeAsync(() => LookAsync(link, stop), Stop, stop);

    /// <summary>Begins again what such a link has ended, as it was before.</summary>
    public Task<StopSight?> StartAsync(string token, CancellationToken stop) => ChangeAsync(
        token,
        (row, sight) =>
        {
            if (sight.Topic == StopTopic.Digest && row.Digests == DigestWish.Never)
                row.Digests = sight.Most.Digests;
            if (sight.Topic == StopTopic.Urgent && row.Urgent == UrgentWish.Never)
                row.Urgent = sight.Most.Urgent;
        },
        stop);

    /// <summary>Changes what somebody is told in mails, to as much as the link may at most.</summary>
    /// <param name="token">The link.</param>
    /// <param name="digests">The morning mail.</param>
    /// <param name="urgent">What cannot wait.</param>
    /// <param name="leftOut">Kinds of notices to leave out, beside those that are left out already.</param>
    /// <param name="bedsLeftOut">Beds to leave out, beside those that are left out already.</param>
    /// <param name="stop">Stops it.</param>
    public Task<StopSight?> ChooseAsync(
        string token, DigestWish digests, UrgentWish urgent, IEnumerable<NoticeKind> leftOut, IEnumerable<long> bedsLeftOut, CancellationToken stop) => ChangeAsync(
        token,
        (row, sight) =>
        {
            row.Digests = sight.Most.Allows(digests) ? digests : sight.Most.Digests;
            row.Urgent = sight.Most.Allows(urgent) ? urgent : sight.Most.Urgent;
            row.KindsLeftOut = PersonWishes.Kept(leftOut.Concat(PersonWishes.LeftOut(row)));
            var more = bedsLeftOut.Intersect(sight.Beds.Select(bed => bed.Id)).Except(row.BedsLeftOut.Select(one => one.BedId)).Order().ToList();
            row.BedsLeftOut.AddRange(more.Select(bed => new PersonBedLeftOut { BedId = bed }));
        },
        stop);

    private static void Stop(Person row, StopSight sight)
    {
        if (sight.Topic == StopTopic.Digest)
            row.Digests = DigestWish.Never;
        else
            row.Urgent = UrgentWish.Never;
    }

    private Task<StopSight?> ChangeAsync(string token, Action<Person, StopSight> change, CancellationToken stop) =>
        ChangeAsync(() => LookAsync(token, stop), change, stop);

    private async Task<StopSight?> ChangeAsync(Func<Task<StopSight?>> look, Action<Person, StopSight> change, CancellationToken stop)
    {
        for (var attempt = 1; ; attempt++)
        {
            if (await look() is not { } sight)
                return null;
            try
            {
                // In their cooperative and in their name; a person's own row is seen in every reach.
                var reach = new Reach();
                reach.Open(sight.Person, growersReadAll: true, Deeds.DeedBook.Via, clock);
                await using var store = stores.CreateDbContext(reach);
                await using var transaction = await store.Database.BeginTransactionAsync(stop);
                var row = await store.People.Include(person => person.BedsLeftOut).SingleAsync(person => person.Id == sight.Person.Id, stop);
                if (row.Version != sight.Person.Version && attempt < Attempts)
                    continue;
                var before = row.BedsLeftOut.Count;
                change(row, sight);
                // Other beds alone are a change of the member too, and have to raise the version.
                if (row.BedsLeftOut.Count != before)
                    store.Entry(row).State = EntityState.Modified;
                await store.SaveChangesAsync(stop);
                // What waits is for somebody who has just been told that no more comes.
                var now = clock.GetCurrentInstant();
                if (row.Digests == DigestWish.Never)
                    await WaitingMails.EndDigestsAsync(store, row.Id, WaitingMails.NotWanted, now, stop);
                if (row.Urgent == UrgentWish.Never)
                    await WaitingMails.EndUrgentAsync(store, row.Id, WaitingMails.NotWanted, now, stop);
                var without = row.BedsLeftOut.Select(one => one.BedId).ToHashSet();
                await WaitingMails.EndUrgentOfAsync(store, row.Id, without, WaitingMails.NotWanted, now, stop);
                await transaction.CommitAsync(stop);
                return sight with { Person = row, Beds = [.. sight.Beds.Where(bed => !without.Contains(bed.Id))] };
            }
            catch (DbUpdateException) when (attempt < Attempts)
            {
                // Their settings were saved at the same moment: once more, on top of that.
            }
        }
    }
}
