using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>Changes what members are told, within what they may see.</summary>
internal sealed class WishBook(FruitWatchStore store, IClock clock)
{
    /// <summary>
    /// Whether they choose their sites themselves. Where the sites that somebody is told about are all that they see, giving one up would
    /// be giving up their place there: that is for the coordinator.
    /// </summary>
    public bool OwnSites => !store.Reach.OwnSitesOnly;

    /// <summary>Who can stand in for somebody: other members who have an address, are let in, and may see all of the cooperative's beds.</summary>
    public async Task<IReadOnlyList<Deputy>> DeputiesAsync(Person row, CancellationToken stop)
    {
        var others = await store.People.AsNoTracking()
            .Where(other => other.Id != row.Id && other.Active && other.EmailNormalized != "").OrderBy(other => other.Name).ThenBy(other => other.Id).ToListAsync(stop);
        // Growers of the cooperatives in it see their own beds only.
        var apart = (await store.Cooperatives.Where(one => !one.GrowersReadAll).Select(one => one.Id).ToListAsync(stop)).ToHashSet();
        var yesterday = clock.GetCurrentInstant().InUtc().Date.PlusDays(-1);
        return [.. others.Where(other => Readers.MayStandIn(other, apart)).Select(other => new Deputy(other, [.. Deputy.DoubtsOf(other, yesterday)]))];
    }

    /// <summary>Sites of beds that are somebody's own: of those they are told.</summary>
    public async Task<HashSet<long>> FixedSitesAsync(Person row, CancellationToken stop)
    {
        var beds = row.Beds.Select(own => own.BedId).ToArray();
        return [.. await store.Beds.Where(bed => beds.Contains(bed.Id)).Select(bed => bed.SiteId).ToListAsync(stop)];
    }

    /// <summary>What only shows beside what is kept; what is wrong is noted in the fields.</summary>
    public async Task CheckAsync(PersonWishes wishes, Person row, IFields fields, CancellationToken stop)
    {
        if (!fields.Good)
            return;
        if (wishes.DeputyId is { } deputy && !(await DeputiesAsync(row, stop)).Any(other => other.Person.Id == deputy))
            fields.Refuse("deputyId", words => words.WishesNoDeputy);
        // What is left out already may be of a site that they do not see at present.
        var beds = (wishes.BedsLeftOut ?? []).Except(row.BedsLeftOut.Select(one => one.BedId)).ToArray();
        if (beds.Length > 0 && await store.Beds.CountAsync(bed => EF.Parameter(beds).Contains(bed.Id), stop) != beds.Length)
            fields.Refuse(BedTicks.ProblemField, words => words.PeopleUnknownBed);
        if (wishes.SiteIds is not { } sites)
            return;
        if (await store.Sites.CountAsync(site => sites.Contains(site.Id), stop) != sites.Count)
            fields.Refuse("siteIds", words => words.PeopleUnknownSite);
        else if (!OwnSites && !sites.ToHashSet().SetEquals(row.Sites.Select(told => told.SiteId)))
            fields.Refuse("siteIds", words => words.WishesSitesFixed);
    }

    /// <summary>Puts them as they are wanted.</summary>
    public async Task PutAsync(PersonWishes wishes, Person row, CancellationToken stop)
    {
        wishes.Put(row);
        if (wishes.SiteIds is { } wanted && OwnSites)
        {
            var sites = wanted.Concat(await FixedSitesAsync(row, stop)).ToHashSet();
            var before = row.Sites.Select(told => told.SiteId).ToHashSet();
            row.Sites.RemoveAll(told => !sites.Contains(told.SiteId));
            row.Sites.AddRange(sites.Except(before).Order().Select(site => new PersonSite { SiteId = site }));
        }

        var leftOut = (wishes.BedsLeftOut ?? []).ToHashSet();
        row.BedsLeftOut.RemoveAll(one => !leftOut.Contains(one.BedId));
        row.BedsLeftOut.AddRange(leftOut.Except(row.BedsLeftOut.Select(one => one.BedId)).Order().Select(bed => new PersonBedLeftOut { BedId = bed }).ToList());

        // Other sites or beds alone are a change of the member too, and have to raise the version.
        store.Entry(row).State = EntityState.Modified;
        await using var transaction = await store.JoinAsync(stop);
        await store.SaveChangesAsync(stop);
        await EndWaitingAsync(row, stop);
        await transaction.CommitAsync(stop);
    }

    /// <summary>What they want no more does not go out either where it waits already.</summary>
    private async Task EndWaitingAsync(Person row, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var told = row.Sites.Select(site => site.SiteId).ToArray();
        var zones = await store.Sites.Where(site => told.Contains(site.Id)).OrderBy(site => site.Id).Select(site => site.ZoneId).ToListAsync(stop);
        var away = Readers.IsAway(row, now, zones);
        if (away || row.Digests == DigestWish.Never)
            await WaitingMails.EndDigestsAsync(store, row.Id, WaitingMails.NotWanted, now, stop);
        if (away || row.Urgent == UrgentWish.Never)
            await WaitingMails.EndUrgentAsync(store, row.Id, WaitingMails.NotWanted, now, stop);
        await WaitingMails.EndUrgentOfAsync(store, row.Id, row.BedsLeftOut.Select(one => one.BedId), WaitingMails.NotWanted, now, stop);
    }

    /// <summary>Mail to an address is tried again.</summary>
    public async Task ResumeAsync(Person row, CancellationToken stop)
    {
        (row.MailPausedAt, row.MailPausedWhy) = (null, null);
        await store.SaveChangesAsync(stop);
    }
}
