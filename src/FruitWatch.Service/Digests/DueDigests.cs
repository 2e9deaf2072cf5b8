using FruitWatch.Service.Mornings;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>A digest that is to be composed now.</summary>
/// <param name="Person">Who is told.</param>
/// <param name="Day">The sites' local day.</param>
/// <param name="SiteIds">Sites that had their round.</param>
/// <param name="OwnBeds">The only beds that they are told of; null for all of the sites.</param>
/// <param name="Late">A round was done after the morning had passed.</param>
/// <param name="NotAfter">Of no use from then on.</param>
internal sealed record DueDigest(Person Person, LocalDate Day, IReadOnlyList<long> SiteIds, IReadOnlySet<long>? OwnBeds, bool Late, Instant NotAfter);

/// <summary>
/// Who is to be told now: once all of their sites have had their round, at their own hour, of no more than they may see. A grower who
/// may not read the others' beds is told of their own ones only.
/// </summary>
internal static class DueDigests
{
    /// <summary>A site whose round is so much overdue no longer keeps the others waiting.</summary>
    private static readonly Duration s_patience = Duration.FromHours(2);

    /// <summary>A digest of a day is of use until this hour of it; what it said is told with the next one then.</summary>
    private static readonly LocalTime s_notAfter = new(20, 0);

    public static async Task<IReadOnlyList<DueDigest>> FindAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var since = now.InUtc().Date.PlusDays(-1);
        var mornings = (await store.Mornings.AsNoTracking().Where(m => m.On >= since).ToListAsync(stop))
            .ToDictionary(m => (m.SiteId, m.On));
        var sites = await store.Sites.AsNoTracking().ToDictionaryAsync(s => s.Id, stop);
        var people = await store.PeopleToTell().AsNoTracking().Include(p => p.Sites).OrderBy(p => p.Id).ToListAsync(stop);
        var apart = (await store.Cooperatives.Where(c => !c.GrowersReadAll).Select(c => c.Id).ToListAsync(stop)).ToHashSet();
        var ownBeds = (await (
            from own in store.BedGrowers
            join bed in store.Beds on own.BedId equals bed.Id
            select new { own.PersonId, own.BedId, bed.SiteId }).ToListAsync(stop)).ToLookup(own => own.PersonId);

        var due = new List<DueDigest>();
        foreach (var person in people)
        {
            var told = person.Role == Role.Grower && apart.Contains(person.CooperativeId)
                ? ownBeds[person.Id].ToDictionary(own => own.BedId, own => own.SiteId)
                : null;
            var own = person.Sites.Select(s => sites[s.SiteId]).Where(s => told?.ContainsValue(s.Id) != false).OrderBy(s => s.Id).ToList();
            var days = own.Select(s => now.InZone(ZoneOf(s)).Date).Distinct();
            foreach (var day in days)
            {
                var done = own.Where(s => mornings.ContainsKey((s.Id, day))).ToList();
                if (done.Count == 0 || !own.All(s => mornings.ContainsKey((s.Id, day)) || Overdue(s, day, now)))
                    continue;
                var notAfter = own.Max(s => LocalMorning.Of(day, s_notAfter, ZoneOf(s)));
                if (now < notAfter && now >= (OwnHour(person, day, own, notAfter) ?? now))
                    due.Add(new DueDigest(person, day, [.. done.Select(s => s.Id)], told?.Keys.ToHashSet(), done.Any(s => mornings[(s.Id, day)].Late), notAfter));
            }
        }

        var keys = due.Select(d => DigestRound.KeyOf(d.Person.Id, d.Day)).ToArray();
        var composed = await store.Outbox.Where(m => EF.Parameter(keys).Contains(m.Key)).Select(m => m.Key).ToListAsync(stop);
        return due.FindAll(d => !composed.Contains(DigestRound.KeyOf(d.Person.Id, d.Day)));
    }

    /// <summary>
    /// From when on a person wants to be told of a day; null where they want it at once. By their own zone it is the first such hour
    /// after the rounds are due, so that somebody far away is not woken by a morning that is not theirs. An hour that would come too late
    /// to be of use is not waited for.
    /// </summary>
    public static Instant? OwnHour(Person person, LocalDate day, IReadOnlyList<Site> sites, Instant notAfter)
    {
        if (person.MorningAt is not { } at)
            return null;
        Instant hour;
        if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(person.ZoneId ?? "") is { } zone)
        {
            var rounds = sites.Max(site => LocalMorning.Of(day, site.MorningAt, ZoneOf(site)));
            var date = rounds.InZone(zone).Date;
            hour = LocalMorning.Of(date, at, zone);
            if (hour < rounds)
                hour = LocalMorning.Of(date.PlusDays(1), at, zone);
        }
        else
        {
            hour = sites.Max(site => LocalMorning.Of(day, at, ZoneOf(site)));
        }

        return hour < notAfter ? hour : null;
    }

    private static DateTimeZone ZoneOf(Site site) => DateTimeZoneProviders.Tzdb[site.ZoneId];

    private static bool Overdue(Site site, LocalDate day, Instant now) => now - LocalMorning.Of(day, site.MorningAt, ZoneOf(site)) > s_patience;
}
