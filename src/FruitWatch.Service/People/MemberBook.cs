using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.People;

/// <summary>
/// Makes and changes members, and holds to the rules that tie them together: a grower is told about the sites of their beds, somebody
/// always answers for the cooperative, and nobody raises themself.
/// </summary>
internal sealed class MemberBook(FruitWatchStore store, Visitor visitor, Invitations invitations, PersonRemoval removal, MailSoon mails, IClock clock)
{
    /// <summary>A member with sites, beds and what they left out, to be changed; null where there is none.</summary>
    public Task<Person?> FindAsync(long id, CancellationToken stop) =>
        store.People.Include(row => row.Sites).Include(row => row.BedsLeftOut).Include(row => row.Beds).AsSplitQuery().SingleOrDefaultAsync(row => row.Id == id, stop);

    /// <summary>What only shows beside what is kept; what is wrong is noted in the fields.</summary>
    /// <param name="change">What is wanted.</param>
    /// <param name="row">The member; null for a new one.</param>
    /// <param name="fields">Where to note it.</param>
    /// <param name="stop">Stops it.</param>
    public async Task CheckAsync(PersonChange change, Person? row, IFields fields, CancellationToken stop)
    {
        if (!fields.Good)
            return;
        var address = Person.Normalize(change.Email ?? "");
        if (row is { EmailConfirmedAt: not null } && address != row.EmailNormalized)
            fields.Refuse("email", words => words.PeopleAddressIsTheirs);
        var id = row?.Id ?? 0;
        if (address.Length > 0 && await store.People.AnyAsync(other => other.EmailNormalized == address && other.Id != id, stop))
            fields.Refuse("email", words => words.PeopleAddressTaken);
        var sites = change.SiteIds ?? [];
        if (sites.Count > 0 && await store.Sites.CountAsync(site => sites.Contains(site.Id), stop) != sites.Count)
            fields.Refuse("siteIds", words => words.PeopleUnknownSite);
        var beds = change.BedIds ?? [];
        if (beds.Count > 0 && await store.Beds.CountAsync(bed => beds.Contains(bed.Id), stop) != beds.Count)
            fields.Refuse("bedIds", words => words.PeopleUnknownBed);
    }

    /// <summary>Makes a member, and invites them where they have an address. A farm hand can work from a link at once.</summary>
    /// <exception cref="MemberRefusedException">Too many were invited.</exception>
    public async Task<Person> AddAsync(PersonChange change, CancellationToken stop)
    {
        await using var transaction = await store.JoinAsync(stop);
        var row = new Person
        {
            CooperativeId = store.Reach.CooperativeId,
            Name = "",
            Email = change.Email ?? "",
            Role = change.Role,
            Active = change.Role == Role.FarmHand && change.Active != false,
        };
        change.Settings.Put(row);
        await TieAsync(row, change, stop);
        store.People.Add(row);
        await SaveAsync(row, stop);
        if (row.Email.Length > 0)
            await invitations.SendAsync(row, stop);
        await transaction.CommitAsync(stop);
        mails.Send();
        return row;
    }

    /// <summary>Invites somebody once more.</summary>
    /// <exception cref="MemberRefusedException">They accepted, have no address, or too many were invited.</exception>
    public async Task InviteAsync(Person row, CancellationToken stop)
    {
        await using var transaction = await store.JoinAsync(stop);
        await invitations.SendAsync(row, stop);
        await transaction.CommitAsync(stop);
        mails.Send();
    }

    /// <summary>Removes a member for good.</summary>
    /// <exception cref="MemberRefusedException">Nobody else would answer for the cooperative.</exception>
    public async Task RemoveAsync(Person row, CancellationToken stop)
    {
        if (row is { Role: Role.Coordinator, Active: true })
            await HoldLastCoordinatorAsync(row.Id, stop);
        // In a transaction of its own, where it asks once more.
        if (await removal.RemoveAsync(row, stop) is not null)
            throw new MemberRefusedException(MemberRefusal.LastCoordinator);
    }

    /// <summary>Changes a member.</summary>
    /// <exception cref="MemberRefusedException">It cannot be as things stand.</exception>
    public async Task ChangeAsync(Person row, PersonChange change, CancellationToken stop)
    {
        if (row.Id == visitor.Person?.Id && change.Role != row.Role)
            throw new MemberRefusedException(MemberRefusal.OwnRole);
        var active = change.Active ?? row.Active;
        if (active && !row.Active && row.AccountId is null && change.Role != Role.FarmHand)
            throw new MemberRefusedException(MemberRefusal.NotAccepted);
        // A farm hand works from a link before they have confirmed an address; nobody else is let in before.
        if (row.Role == Role.FarmHand && change.Role != Role.FarmHand && row.AccountId is null)
            active = false;
        var moved = Person.Normalize(change.Email ?? "") != row.EmailNormalized;
        var left = row.Active && !active;

        await using var transaction = await store.JoinAsync(stop);
        if (row is { Role: Role.Coordinator, Active: true } && (change.Role != Role.Coordinator || !active))
            await HoldLastCoordinatorAsync(row.Id, stop);
        if (change.Role != Role.FarmHand || !active)
            await RevokeLinksAsync(row.Id, stop);
        row.Role = change.Role;
        row.Active = active;
        row.Email = change.Email ?? "";
        if (moved)
            MailPause.End(row);
        change.Settings.Put(row);
        await TieAsync(row, change, stop);
        // Other sites or beds alone are a change of the member too, and have to raise the version.
        store.Entry(row).State = EntityState.Modified;
        await SaveAsync(row, stop);
        if (left || moved)
            await WaitingMails.EndAllAsync(store, row.Id, left ? WaitingMails.NotLetIn : WaitingMails.Moved, clock.GetCurrentInstant(), stop);
        if (moved)
        {
            // What was sent to the address before is no longer theirs to accept.
            await invitations.TakeBackAsync(row, stop);
            if (row.Email.Length > 0)
                await invitations.SendAsync(row, stop);
        }

        await transaction.CommitAsync(stop);
        if (moved)
            mails.Send();
    }

    /// <summary>Saves a member. An address is asked for before, but two may ask at the same moment; the store knows.</summary>
    /// <exception cref="MemberRefusedException">Another member has the address.</exception>
    private async Task SaveAsync(Person row, CancellationToken stop)
    {
        try
        {
            await store.SaveChangesAsync(stop);
        }
        catch (DbUpdateException failed) when (failed is not DbUpdateConcurrencyException)
        {
            store.ChangeTracker.Clear();
            if (row.EmailNormalized.Length > 0 && await store.People.AnyAsync(other => other.EmailNormalized == row.EmailNormalized && other.Id != row.Id, stop))
                throw new MemberRefusedException(MemberRefusal.AddressTaken);
            throw;
        }
    }

    /// <summary>Somebody has to answer for the cooperative. Within a transaction, so that two cannot give it up at the same moment.</summary>
    /// <exception cref="MemberRefusedException">Nobody else does.</exception>
    public async Task HoldLastCoordinatorAsync(long personId, CancellationToken stop)
    {
        // Holds the row: the next one who asks waits until this is decided.
        await store.Cooperatives.ExecuteUpdateAsync(set => set.SetProperty(row => row.Version, row => row.Version), stop);
        if (!await store.People.AnyAsync(row => row.Id != personId && row.Role == Role.Coordinator && row.Active && row.AccountId != null, stop))
            throw new MemberRefusedException(MemberRefusal.LastCoordinator);
    }

    private async Task RevokeLinksAsync(long personId, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        foreach (var link in await store.PersonalLinks.Where(row => row.PersonId == personId && row.RevokedAt == null).ToListAsync(stop))
            link.RevokedAt = now;
    }

    /// <summary>Puts sites and beds as they are wanted. What stays keeps its row, so that the audit tells what changed and no more.</summary>
    private async Task TieAsync(Person row, PersonChange change, CancellationToken stop)
    {
        var before = row.Sites.Select(told => told.SiteId).ToHashSet();
        var own = row.Beds.Select(bed => bed.BedId).ToHashSet();
        var sites = (change.SiteIds ?? []).ToHashSet();
        var wanted = (change.BedIds ?? []).ToArray();
        var places = await store.Beds.Where(bed => wanted.Contains(bed.Id)).ToDictionaryAsync(bed => bed.Id, bed => bed.SiteId, stop);
        // A site that is taken away takes the beds along that were theirs; a bed that is newly theirs brings its site.
        var beds = places.Where(bed => sites.Contains(bed.Value) || !own.Contains(bed.Key) || !before.Contains(bed.Value)).ToList();
        sites.UnionWith(beds.Select(bed => bed.Value));
        row.Sites.RemoveAll(told => !sites.Contains(told.SiteId));
        row.Sites.AddRange(sites.Except(before).Order().Select(site => new PersonSite { SiteId = site }));
        row.Beds.RemoveAll(bed => !beds.Exists(kept => kept.Key == bed.BedId));
        row.Beds.AddRange(beds.Select(bed => bed.Key).Except(own).Order().Select(bed => new BedGrower { BedId = bed }));
    }
}
