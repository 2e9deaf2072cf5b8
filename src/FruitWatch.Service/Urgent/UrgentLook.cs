using FruitWatch.Service.Beds;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Outlooks;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Urgent;

/// <summary>
/// Looks again at sites whose forecast is newer than the one they were last looked at by, for what cannot wait until the next morning:
/// a frost tonight on a flush, heat tomorrow on young spawn, a storm on a covered bed; and for what was so and is no longer.
/// Everything else waits for the morning round.
/// </summary>
internal sealed class UrgentLook(StoreFactory stores, SiteBooks books, IClock clock, ILogger<UrgentLook> log)
{
    /// <summary>Sites whose books are open at a time.</summary>
    private const int SitesAtOnce = 40;

    /// <summary>Looks at all sites that have a newer forecast.</summary>
    /// <returns>How many were looked at.</returns>
    public async Task<int> RunAsync(CancellationToken stop)
    {
        var due = await DueAsync(stop);
        foreach (var some in due.Chunk(SitesAtOnce))
        {
            try
            {
                await LookAsync(some, stop);
            }
            catch (Exception fault) when (!stop.IsCancellationRequested)
            {
                log.LogDebug(fault, "Some sites could not be looked at together");
                foreach (var one in some)
                    await LookAloneAsync(one, stop);
            }
        }

        return due.Count;
    }

    /// <summary>Sites whose round of today is done and whose newest forecast is another one than that of the last look.</summary>
    private async Task<IReadOnlyList<(long SiteId, long ForecastId)>> DueAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var now = clock.GetCurrentInstant();
        var since = now.InUtc().Date.PlusDays(-1);
        var looked = await store.Mornings.AsNoTracking().Where(m => m.On >= since).Select(m => new { m.SiteId, m.On, m.ForecastIssueId, m.LookedAtForecastId }).ToListAsync(stop);
        if (looked.Count == 0)
            return [];
        var recently = now - Duration.FromHours(36);
        // Fetched later has the greater key.
        var newest = await store.Forecasts.Where(f => f.FetchedAt >= recently && f.FetchedAt <= now).GroupBy(f => f.SiteId)
            .Select(of => new { SiteId = of.Key, Id = of.Max(f => f.Id) }).ToDictionaryAsync(f => f.SiteId, f => f.Id, stop);
        var zones = await store.Sites.Select(s => new { s.Id, s.ZoneId }).ToDictionaryAsync(s => s.Id, s => s.ZoneId, stop);
        return
        [
            .. looked
                .Where(m => m.On == now.InZone(DateTimeZoneProviders.Tzdb[zones[m.SiteId]]).Date
                    && newest.TryGetValue(m.SiteId, out var id) && id != (m.LookedAtForecastId ?? m.ForecastIssueId))
                .OrderBy(m => m.SiteId).Select(m => (m.SiteId, newest[m.SiteId])),
        ];
    }

    /// <summary>A site that cannot be read, or that somebody changed just now, is looked at again at the next tick, and costs no other its look.</summary>
    private async Task LookAloneAsync((long SiteId, long ForecastId) due, CancellationToken stop)
    {
        try
        {
            await LookAsync([due], stop);
        }
        catch (Exception fault) when (!stop.IsCancellationRequested)
        {
            log.LogError(fault, "Site {Site} could not be looked at with its newer forecast", due.SiteId);
        }
    }

    private async Task LookAsync(IReadOnlyList<(long SiteId, long ForecastId)> due, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var forecasts = due.ToDictionary(site => site.SiteId, site => site.ForecastId);
        foreach (var site in await books.OpenAsync(store, [.. forecasts.Keys], stop))
        {
            await LookAsync(store, site, forecasts[site.Row.Id], stop);
            store.ChangeTracker.Clear();
        }
    }

    private async Task LookAsync(FruitWatchStore store, SiteBook site, long? by, CancellationToken stop)
    {
        var mornings = BedOutlooks.Mornings(site);
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        // Another server that looked by the same forecast has written this down, or does so now and is waited for here.
        if (await store.Mornings.Where(m => m.SiteId == site.Row.Id && m.On == site.Today && (m.LookedAtForecastId ?? 0) != by)
                .ExecuteUpdateAsync(set => set.SetProperty(m => m.LookedAtForecastId, by), stop) == 0)
            return;
        var counts = await NoticeRound.ReconcileAsync(store, site, mornings, clock.GetCurrentInstant(), stop, NoticeScope.Urgent);
        await transaction.CommitAsync(stop);
        if (counts.Opened + counts.Closed > 0)
            log.LogInformation("A newer forecast for site {Site}: {Opened} urgent notices opened, {Closed} ended", site.Row.Id, counts.Opened, counts.Closed);
    }
}
