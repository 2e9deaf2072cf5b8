using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Queries;

/// <summary>The forecasts as they were issued.</summary>
public static class ForecastHistory
{
    /// <summary>
    /// Keeps a forecast unless it says what the last one of this site and feed said; then that one is given back. A feed is asked more
    /// often than it has something new to say.
    /// </summary>
    public static async Task<ForecastIssue> KeepForecastAsync(
        this FruitWatchStore store, ForecastIssue fetched, CancellationToken cancellationToken = default)
    {
        var last = await store.Forecasts.AsNoTracking()
            .Where(issue => issue.SiteId == fetched.SiteId && issue.FeedId == fetched.FeedId)
            .OrderByDescending(issue => issue.FetchedAt).ThenByDescending(issue => issue.Id)
            .FirstOrDefaultAsync(cancellationToken);
        if (last is not null && last.FirstDay == fetched.FirstDay && last.Days == fetched.Days && last.Payload == fetched.Payload)
            return last;
        store.Forecasts.Add(fetched);
        await store.SaveChangesAsync(cancellationToken);
        return fetched;
    }
}
