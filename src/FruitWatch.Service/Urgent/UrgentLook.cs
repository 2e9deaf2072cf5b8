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
            await LookAsync(some.ToDictionary(site => site.SiteId, site => site.ForecastId), stop);
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

    private async Task LookAsync(IReadOnlyDictionary<long, long> forecasts, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        foreach (var site in await books.OpenAsync(store, [.. forecasts.Keys], stop))
        {
            var mornings = BedOutlooks.Mornings(site);
            await using var transaction = await store.Database.BeginTransactionAsync(stop);
            var counts = await NoticeRound.ReconcileAsync(store, site, mornings, clock.GetCurrentInstant(), stop, NoticeScope.Urgent);
            long? by = forecasts[site.Row.Id];
            await store.Mornings.Where(m => m.SiteId == site.Row.Id && m.On == site.Today)
                .ExecuteUpdateAsync(set => set.SetProperty(m => m.LookedAtForecastId, by), stop);
            await transaction.CommitAsync(stop);
            store.ChangeTracker.Clear();
            if (counts.Opened + counts.Closed > 0)
                log.LogInformation("A newer forecast for site {Site}: {Opened} urgent notices opened, {Closed} ended", site.Row.Id, counts.Opened, counts.Closed);
        }
    }
}
