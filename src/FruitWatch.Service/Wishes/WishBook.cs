using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Wishes;

/// <summary>Changes what members are told, within what they may see.</summary>
internal sealed class WishBook(FruitWatchStore store)
{
    /// <summary>
    /// Whether they choose their sites themselves. Where the sites that somebody is told about are all that they see, giving one up would
    /// be giving up their place there: that is for the coordinator.
    /// </summary>
    public bool OwnSites => !store.Reach.OwnSitesOnly;

    /// <summary>Who can stand in for somebody: other members who have an address and are let in.</summary>
    public Task<List<Person>> DeputiesAsync(Person row, CancellationToken stop) => store.People.AsNoTracking()
        .Where(other => other.Id != row.Id && other.Active && other.EmailNormalized != "").OrderBy(other => other.Name).ThenBy(other => other.Id).ToListAsync(stop);

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
        if (wishes.DeputyId is { } deputy
            && (deputy == row.Id || !await store.People.AnyAsync(other => other.Id == deputy && other.Active && other.EmailNormalized != "", stop)))
            fields.Refuse("deputyId", words => words.WishesNoDeputy);
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

        // Other sites alone are a change of the member too, and have to raise the version.
        store.Entry(row).State = EntityState.Modified;
        await store.SaveChangesAsync(stop);
    }

    /// <summary>Mail to an address is tried again.</summary>
    public async Task ResumeAsync(Person row, CancellationToken stop)
    {
        (row.MailPausedAt, row.MailPausedWhy) = (null, null);
        await store.SaveChangesAsync(stop);
    }
}
