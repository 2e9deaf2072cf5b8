using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Calendars;

/// <summary>Finds a calendar feed by its secret and reads what its owner may see now, whatever they could see when they made it.</summary>
internal sealed class CalendarReader(StoreFactory stores, IClock clock)
{
    /// <summary>How long what ended is still shown: done as history, withdrawn so that programs take it away.</summary>
    public const int DaysAfter = 30;

    private static readonly Duration s_noted = Duration.FromMinutes(5);

    /// <summary>The feed of a secret; null for one that is unknown or taken back, or whose owner is no member any more.</summary>
    public async Task<CalendarFeed?> FindAsync(string? secret, CancellationToken stop)
    {
        if (secret is not { Length: > 0 and <= 200 })
            return null;
        var hash = Secrets.Hash(secret);
        await using var store = stores.CreateDbContext();
        return await store.CalendarFeeds.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Hash == hash && row.RevokedAt == null && store.People.Any(person => person.Id == row.PersonId && person.Active), stop);
    }

    /// <summary>Notes that a feed was read, to the nearest few minutes.</summary>
    public async Task NoteAsync(CalendarFeed feed, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        if (feed.LastUsedAt is { } noted && now - noted <= s_noted)
            return;
        await using var store = stores.CreateDbContext();
        await store.CalendarFeeds.Where(row => row.Id == feed.Id).ExecuteUpdateAsync(set => set.SetProperty(row => row.LastUsedAt, now), stop);
    }

    /// <summary>What stands in it; null where its owner was just taken from the members.</summary>
    public async Task<CalendarContent?> ReadAsync(CalendarFeed feed, CancellationToken stop)
    {
        var reach = new Reach();
        Person? person;
        await using (var everything = stores.CreateDbContext())
        {
            person = await everything.People.AsNoTracking().SingleOrDefaultAsync(row => row.Id == feed.PersonId && row.Active, stop);
            if (person is null)
                return null;
            var growersReadAll = await everything.Cooperatives.Where(row => row.Id == person.CooperativeId).Select(row => row.GrowersReadAll).SingleAsync(stop);
            reach.Open(person, growersReadAll, "calendar", clock);
        }

        await using var store = stores.CreateDbContext(reach);
        var (only, own) = (feed.SiteId, person.Id);
        var sites = await store.Sites.AsNoTracking()
            .Where(site => only == null ? store.PersonSites.Any(told => told.SiteId == site.Id && told.PersonId == own) : site.Id == only)
            .ToDictionaryAsync(site => site.Id, stop);
        var keys = sites.Keys.ToArray();
        var beds = await store.Beds.AsNoTracking().Where(bed => EF.Parameter(keys).Contains(bed.SiteId)).ToDictionaryAsync(bed => bed.Id, stop);
        var since = clock.GetCurrentInstant().InUtc().Date.PlusDays(-DaysAfter);
        var rows = await store.Notices.AsNoTracking()
            .Where(row => EF.Parameter(keys).Contains(row.SiteId) && (row.State == NoticeState.Open || row.ClosedOn >= since))
            .OrderBy(row => row.Id)
            .ToListAsync(stop);
        var without = (await store.PersonBedsLeftOut.Where(row => row.PersonId == own).Select(row => row.BedId).ToListAsync(stop)).ToHashSet();
        var leftOut = person.KindsLeftOut.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return new CalendarContent(
            Words.For(person.Language, person.Units),
            only is { } one ? sites.GetValueOrDefault(one) : null,
            [
                // What is open about a bed that was given up ends with the next morning's round.
                .. rows.Where(row => !leftOut.Contains(row.Kind)
                        && (row.BedId is not { } key || (!without.Contains(key) && beds.TryGetValue(key, out var bed) && (bed.RetiredOn is null || row.State != NoticeState.Open))))
                    .Select(row => new CalendarEntry(row, sites[row.SiteId], row.BedId is { } key ? beds[key] : null)),
            ]);
    }
}
