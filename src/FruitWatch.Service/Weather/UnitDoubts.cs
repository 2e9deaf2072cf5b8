using FruitWatch.Feeds;
using FruitWatch.Model.Weather;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Weather;

/// <summary>
/// Compares an answer with what is known of the site: mild °F pass every limit as hot °C. The last good days tell what is to be
/// expected, or the site's climate where there are none.
/// </summary>
internal static class UnitDoubts
{
    private const int RecentDays = 14;

    // Older days would be compared with another season's.
    private const int DaysCompared = 21;

    /// <summary>The doubt about an answer, or null.</summary>
    public static async Task<FeedQuestion?> AboutAsync(FruitWatchStore store, FeedAtSite at, FeedReading reading, CancellationToken stop)
    {
        var today = at.Today;
        var compared = reading with { Days = [.. reading.Days.Where(day => day.Date >= today.PlusDays(-DaysCompared))] };
        if (compared.UnitQuestions(new SiteUsual(await RecentAsync(store, at, stop), [])) is not [var doubt, ..])
            return null;
        return doubt.Fits is [var fit, ..]
            ? new FeedQuestion($"{doubt.Sentence} {fit.Mend}", fit.ReadAs, fit.Place, fit.Value)
            : new FeedQuestion(doubt.Sentence, null, null, null);
    }

    private static async Task<IReadOnlyList<double>> RecentAsync(FruitWatchStore store, FeedAtSite at, CancellationToken stop)
    {
        var (siteId, today) = (at.Site.Id, at.Today);
        var since = today.PlusDays(-3 * RecentDays);
        var recent = await store.Weather.AsNoTracking()
            .Where(day => day.SiteId == siteId && day.Tmax != null && day.Date >= since && day.Date < today)
            .OrderByDescending(day => day.Date).Select(day => day.Tmax!.Value).Take(RecentDays).ToListAsync(stop);
        if (recent.Count > 0)
            return recent;
        // No day of late: what is usual at this time of the year, from whatever past years are known.
        var climate = new Climatology((await SiteSources.PastAsync(store, at.Site, today, stop)).Days);
        return [.. Enumerable.Range(-RecentDays, RecentDays).Select(back => climate.UsualDay(today.PlusDays(back)).Tmax).OfType<double>()];
    }
}
