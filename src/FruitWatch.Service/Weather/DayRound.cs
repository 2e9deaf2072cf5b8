using FruitWatch.Store;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>
/// Asks the feeds that are due by the day and those of a morning that is about to come, a chunk of sites at a time and in no hurry. What was asked is due no longer, so that a
/// second run finds nothing to do.
/// </summary>
internal sealed class DayRound(StoreFactory stores, WeatherPull weather, IClock clock, TimeProvider time, ILogger<DayRound> log)
{
    /// <summary>Sites in one run; the next tick takes the others.</summary>
    private const int MostSites = 200;

    private readonly HostPace pace = new(TimeSpan.FromMilliseconds(250), time);
    private int running;

    /// <summary>Asks what is due.</summary>
    /// <returns>How many sites had something due; 0 where an earlier run still works.</returns>
    public async Task<int> RunAsync(CancellationToken stop)
    {
        if (Interlocked.Exchange(ref running, 1) == 1)
            return 0;
        try
        {
            IReadOnlyList<long> due, ahead;
            await using (var store = stores.CreateDbContext())
            {
                due = await DueFeeds.FindAsync(store, clock.GetCurrentInstant(), MostSites, stop);
                ahead = await DueFeeds.FindAheadAsync(store, clock.GetCurrentInstant(), stop);
            }

            foreach (var (site, why) in ahead.Select(site => (site, PullFor.Ahead)).Concat(due.Select(site => (site, PullFor.Due))))
            {
                await using var store = stores.CreateDbContext();
                var pulled = await weather.PullAsync(store, site, why, null, description => pace.TakeAsync(description, stop), stop);
                log.LogDebug("Feeds of site {Site} by the day: {State}", site, pulled.State);
            }

            return due.Count;
        }
        finally
        {
            Volatile.Write(ref running, 0);
        }
    }
}
