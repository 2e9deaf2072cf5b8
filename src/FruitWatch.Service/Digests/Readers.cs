using FruitWatch.Service.Mornings;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>Somebody who is told by mail, with what they are told about.</summary>
/// <param name="Person">Who.</param>
/// <param name="Sites">Sites, in order of their keys: their own, and those of people who are away and named them.</param>
/// <param name="OnlyBeds">The only beds that they may see; null for all of the sites.</param>
/// <param name="LoggedBeds">The only beds whose log they may write; null for all that they see.</param>
/// <param name="For">Names of those in whose place they are told, too.</param>
internal sealed record Reader(
    Person Person, IReadOnlyList<long> Sites, IReadOnlySet<long>? OnlyBeds, IReadOnlySet<long>? LoggedBeds, IReadOnlyList<string> For)
{
    private readonly HashSet<string> leftOut = [.. Person.KindsLeftOut.Split(' ', StringSplitOptions.RemoveEmptyEntries)];

    private readonly HashSet<long> bedsLeftOut = [.. Person.BedsLeftOut.Select(one => one.BedId)];

    /// <summary>Whether they are told of a notice: of a bed and of a kind that they want.</summary>
    public bool IsToldOf(IssuedNotice notice) => notice.BedId is { } bed && IsToldOfBed(bed) && !leftOut.Contains(notice.Kind);

    /// <summary>Whether letters tell them of a bed: one that they see, and have not left out.</summary>
    public bool IsToldOfBed(long bedId) => OnlyBeds?.Contains(bedId) != false && !bedsLeftOut.Contains(bedId);

    /// <summary>Whether a mail may offer them to say that something was done at a bed.</summary>
    public bool MayLog(long bedId) => LoggedBeds?.Contains(bedId) != false;
}

/// <summary>
/// Who is told, and about what: members whose address takes mail and who are not away, each of their own sites; a grower who may not
/// read the others' beds of their own ones only.
/// </summary>
internal static class Readers
{
    private static readonly HashSet<long> s_none = [];

    /// <summary>Everybody at a moment. A fixed number of queries, however many there are.</summary>
    public static async Task<IReadOnlyList<Reader>> AllAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var people = await store.PeopleToTell().AsNoTracking().Include(p => p.Sites).Include(p => p.BedsLeftOut).AsSplitQuery().OrderBy(p => p.Id).ToListAsync(stop);
        var zones = await store.Sites.Select(s => new { s.Id, s.ZoneId }).ToDictionaryAsync(s => s.Id, s => s.ZoneId, stop);
        var apart = (await store.Cooperatives.Where(c => !c.GrowersReadAll).Select(c => c.Id).ToListAsync(stop)).ToHashSet();
        var ownBeds = (await (
            from own in store.BedGrowers
            join bed in store.Beds on own.BedId equals bed.Id
            select new { own.PersonId, own.BedId, bed.SiteId }).ToListAsync(stop)).ToLookup(own => own.PersonId);
        var away = await AwayAsync(store, now, stop);

        var readers = new List<Reader>();
        foreach (var person in people.Where(person => !IsAway(person, now, person.Sites.Select(s => zones[s.SiteId]))))
        {
            var own = ownBeds[person.Id].ToList();
            var only = SeesOwnBedsOnly(person, apart) ? own.Select(bed => bed.BedId).ToHashSet() : null;
            var absent = MayStandIn(person, apart) ? away[person.Id].ToList() : [];
            var sites = person.Sites.Select(s => s.SiteId).Where(id => only is null || own.Exists(bed => bed.SiteId == id))
                .Concat(absent.SelectMany(one => one.Sites.Select(s => s.SiteId))).Distinct().Order().ToList();
            if (sites.Count == 0)
                continue;
            var logged = person.Role switch
            {
                Role.Viewer => s_none,
                Role.Grower => own.Select(bed => bed.BedId).ToHashSet(),
                _ => null,
            };
            readers.Add(new Reader(person, sites, only, logged, [.. absent.Select(one => one.Name)]));
        }

        return readers;
    }

    /// <summary>Whether somebody can be told in another's place: one who may see all of the cooperative's beds.</summary>
    /// <param name="person">Whoever would be told.</param>
    /// <param name="apart">Cooperatives whose growers do not read each other's beds.</param>
    public static bool MayStandIn(Person person, IReadOnlySet<long> apart) => person.Role switch
    {
        Role.Coordinator or Role.Viewer => true,
        Role.Grower => !apart.Contains(person.CooperativeId),
        _ => false,
    };

    /// <summary>Whether a day lies in somebody's pause, by their own clock or the first of their sites'.</summary>
    public static bool IsAway(Person person, Instant now, IEnumerable<string> siteZones)
    {
        if (person.AwayFrom is not { } from || person.AwayUntil is not { } until)
            return false;
        var zone = QuietHours.ZoneOf(person, DateTimeZoneProviders.Tzdb[siteZones.FirstOrDefault() ?? "UTC"]);
        var today = now.InZone(zone).Date;
        return today >= from && today <= until;
    }

    private static async Task<ILookup<long, Person>> AwayAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var (yesterday, tomorrow) = (now.InUtc().Date.PlusDays(-1), now.InUtc().Date.PlusDays(1));
        var away = await store.People.AsNoTracking().Include(p => p.Sites)
            .Where(p => p.Active && p.DeputyId != null && p.AwayFrom <= tomorrow && p.AwayUntil >= yesterday).OrderBy(p => p.Id).ToListAsync(stop);
        var ids = away.SelectMany(p => p.Sites).Select(s => s.SiteId).Distinct().ToArray();
        var zones = await store.Sites.Where(s => EF.Parameter(ids).Contains(s.Id)).Select(s => new { s.Id, s.ZoneId }).ToDictionaryAsync(s => s.Id, s => s.ZoneId, stop);
        return away.Where(p => IsAway(p, now, p.Sites.Select(s => zones[s.SiteId]))).ToLookup(p => p.DeputyId!.Value);
    }

    private static bool SeesOwnBedsOnly(Person person, HashSet<long> apart) => person.Role == Role.Grower && apart.Contains(person.CooperativeId);
}
