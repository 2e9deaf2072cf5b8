using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Mornings;

/// <summary>A site whose morning has come and whose round was not done.</summary>
internal sealed record DueMorning(long SiteId, LocalDate Day, bool Late);

/// <summary>Finds the due mornings. The database is the truth: nothing is lost by a restart, and a day that passed is not made up.</summary>
internal static class DueMornings
{
    /// <param name="store">Where sites and rounds are kept.</param>
    /// <param name="now">The moment.</param>
    /// <param name="stop">Stops it.</param>
    /// <param name="only">One site; all where it is left out.</param>
    public static async Task<IReadOnlyList<DueMorning>> FindAsync(
        FruitWatchStore store, Instant now, CancellationToken stop, long? only = null)
    {
        var sites = await store.Sites.AsNoTracking().Where(s => only == null || s.Id == only).OrderBy(s => s.Id)
            .Select(s => new { s.Id, s.ZoneId, s.MorningAt }).ToListAsync(stop);
        // A local day is at most a day away from the UTC one.
        var since = now.InUtc().Date.PlusDays(-1);
        var done = await store.Mornings.AsNoTracking().Where(m => m.On >= since && (only == null || m.SiteId == only))
            .Select(m => new { m.SiteId, m.On }).ToListAsync(stop);
        var known = done.Select(m => (m.SiteId, m.On)).ToHashSet();

        var due = new List<DueMorning>();
        foreach (var site in sites)
        {
            var zone = DateTimeZoneProviders.Tzdb[site.ZoneId];
            if (LocalMorning.Come(now, site.MorningAt, zone) is { } day && !known.Contains((site.Id, day)))
                due.Add(new DueMorning(site.Id, day, now - LocalMorning.Of(day, site.MorningAt, zone) > LocalMorning.LateAfter));
        }

        return due;
    }
}
