using FruitWatch.Service.Mornings;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>A digest that is to be composed now.</summary>
/// <param name="Reader">Who is told.</param>
/// <param name="Day">The sites' local day.</param>
/// <param name="SiteIds">Sites that had their round.</param>
/// <param name="Late">The morning had passed when the round was done, or when there was something to tell.</param>
/// <param name="NotAfter">Of no use from then on.</param>
internal sealed record DueDigest(Reader Reader, LocalDate Day, IReadOnlyList<long> SiteIds, bool Late, Instant NotAfter)
{
    public Person Person => Reader.Person;
}

/// <summary>
/// Who is to be told now: once all of their sites have had their round, at their own hour and outside their quiet hours, of no more than
/// they may see.
/// </summary>
internal static class DueDigests
{
    /// <summary>A site whose round is so much overdue no longer keeps the others waiting.</summary>
    private static readonly Duration s_patience = Duration.FromHours(2);

    /// <summary>A digest of a day is of use until this hour of it; what it said is told with the next one then.</summary>
    public static readonly LocalTime NotAfter = new(20, 0);

    public static async Task<IReadOnlyList<DueDigest>> FindAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var since = now.InUtc().Date.PlusDays(-1);
        var mornings = (await store.Mornings.AsNoTracking().Where(m => m.On >= since).Select(m => new { m.SiteId, m.On, m.Late }).ToListAsync(stop))
            .ToDictionary(m => (m.SiteId, m.On), m => m.Late);
        if (mornings.Count == 0)
            return [];
        var sites = await store.Sites.AsNoTracking().ToDictionaryAsync(s => s.Id, stop);
        var composed = await ComposedAsync(store, since, stop);
        var due = new List<DueDigest>();
        foreach (var reader in await Readers.AllAsync(store, now, stop))
        {
            if (reader.Person.Digests == DigestWish.Never)
                continue;
            var own = reader.Sites.Select(id => sites[id]).ToList();
            foreach (var day in own.Select(s => now.InZone(ZoneOf(s)).Date).Distinct())
            {
                if (!composed.Contains(DigestRound.KeyOf(reader.Person.Id, day)) && DueOn(reader, day, own, mornings, now) is { } digest)
                    due.Add(digest);
            }
        }

        return due;
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

    private static DueDigest? DueOn(
        Reader reader, LocalDate day, List<Site> own, Dictionary<(long SiteId, LocalDate On), bool> mornings, Instant now)
    {
        var done = own.FindAll(s => mornings.ContainsKey((s.Id, day)));
        if (done.Count == 0 || !own.TrueForAll(s => mornings.ContainsKey((s.Id, day)) || Overdue(s, day, now)))
            return null;
        if (TimeOf(reader.Person, day, own, now) is not { } time)
            return null;
        var late = done.Exists(s => mornings[(s.Id, day)]) || now - time.Wanted > LocalMorning.LateAfter;
        return new DueDigest(reader, day, [.. done.Select(s => s.Id)], late, time.Until);
    }

    /// <summary>When the digest of a day is to be told to somebody, if all rounds are done by then.</summary>
    public static Instant ExpectedAt(Person person, LocalDate day, IReadOnlyList<Site> sites)
    {
        var (wanted, open, notAfter) = HoursOf(person, day, sites);
        return open < notAfter ? open : wanted;
    }

    /// <summary>Since when a digest has been wanted and until when it is of use; null where this is not the time for it.</summary>
    public static (Instant Wanted, Instant Until)? TimeOf(Person person, LocalDate day, IReadOnlyList<Site> sites, Instant now)
    {
        var zone = ZoneOf(sites[0]);
        var (wanted, open, notAfter) = HoursOf(person, day, sites);
        // Hours that leave no room for the mail are as if there were none: it is told at the hour that was asked for.
        var room = open < notAfter;
        if (now < (room ? open : wanted) || now >= notAfter || (room && QuietHours.Hold(person, zone, now)))
            return null;
        // What is tried again in the evening is not tried in somebody's quiet hours.
        var until = QuietHours.Hold(person, zone, now) || QuietHours.Begin(person, zone, now) is not { } quiet ? notAfter : Instant.Min(notAfter, quiet);
        return (wanted, until);
    }

    /// <summary>When a digest is wanted, when quiet hours open for it, and until when it is of use.</summary>
    private static (Instant Wanted, Instant Open, Instant NotAfter) HoursOf(Person person, LocalDate day, IReadOnlyList<Site> sites)
    {
        var notAfter = sites.Max(s => LocalMorning.Of(day, NotAfter, ZoneOf(s)));
        var rounds = sites.Max(s => LocalMorning.Of(day, s.MorningAt, ZoneOf(s)));
        var wanted = OwnHour(person, day, sites, notAfter) is { } hour ? Instant.Max(hour, rounds) : rounds;
        return (wanted, QuietHours.Open(person, ZoneOf(sites[0]), wanted), notAfter);
    }

    private static async Task<HashSet<string>> ComposedAsync(FruitWatchStore store, LocalDate since, CancellationToken stop)
    {
        var from = since.PlusDays(-1).AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();
        return [.. await store.Outbox.Where(m => m.CreatedAt >= from && m.Key.StartsWith(DigestRound.KeyPrefix)).Select(m => m.Key).ToListAsync(stop)];
    }

    private static DateTimeZone ZoneOf(Site site) => DateTimeZoneProviders.Tzdb[site.ZoneId];

    private static bool Overdue(Site site, LocalDate day, Instant now) => now - LocalMorning.Of(day, site.MorningAt, ZoneOf(site)) > s_patience;
}
