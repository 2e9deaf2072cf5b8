using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Calendars;

/// <summary>
/// Makes the visitor's private calendar feeds and takes them back. Nobody sees those of others, and nobody sees the secret of one twice:
/// whoever has the address reads what its owner may read.
/// </summary>
internal sealed class CalendarShelf(FruitWatchStore store, Visitor visitor, ServiceOptions options, IClock clock)
{
    public const int LongestName = 80;

    /// <summary>Feeds that a person may have at a time.</summary>
    public const int Most = 10;

    /// <summary>The visitor's own that open, the last made first.</summary>
    public IQueryable<CalendarFeed> Own
    {
        get
        {
            var own = visitor.Person!.Id;
            return store.CalendarFeeds.Where(feed => feed.PersonId == own && feed.RevokedAt == null).OrderByDescending(feed => feed.Id);
        }
    }

    /// <summary>Sites of which a feed can be made: those that the visitor sees.</summary>
    public IQueryable<Site> Sites => store.Sites.OrderBy(site => site.Name).ThenBy(site => site.Id);

    /// <summary>Names of the sites that a feed without a site shows: those that the visitor is told about.</summary>
    public Task<List<string>> ToldAboutAsync(CancellationToken stop)
    {
        var own = visitor.Person!.Id;
        return Sites.Where(site => store.PersonSites.Any(told => told.SiteId == site.Id && told.PersonId == own)).Select(site => site.Name).ToListAsync(stop);
    }

    /// <summary>Makes one; null where there are enough. Its address is known here and now only.</summary>
    /// <param name="name">What its maker calls it.</param>
    /// <param name="siteId">The only site in it, one of <see cref="Sites"/>; null for all that they are told about.</param>
    /// <param name="stop">Stops it.</param>
    public async Task<(CalendarFeed Feed, string Address)?> MakeAsync(string name, long? siteId, CancellationToken stop)
    {
        if (await Own.CountAsync(stop) >= Most)
            return null;
        var secret = Secrets.Draw();
        var feed = new CalendarFeed
        {
            CooperativeId = visitor.Person!.CooperativeId,
            PersonId = visitor.Person.Id,
            SiteId = siteId,
            Name = name,
            Hash = Secrets.Hash(secret),
            MadeAt = clock.GetCurrentInstant(),
        };
        store.CalendarFeeds.Add(feed);
        await store.SaveChangesAsync(stop);
        return (feed, CalendarAddress.Of(options.BaseUrl, secret));
    }

    /// <summary>Takes one back: from now on it opens nothing.</summary>
    /// <returns>False where the visitor has no such feed.</returns>
    public async Task<bool> RevokeAsync(long id, CancellationToken stop)
    {
        if (await Own.SingleOrDefaultAsync(row => row.Id == id, stop) is not { } feed)
            return false;
        feed.RevokedAt = clock.GetCurrentInstant();
        await store.SaveChangesAsync(stop);
        return true;
    }
}
