using FruitWatch.Feeds;
using FruitWatch.Model.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Queries;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>
/// Compares an answer with what is known of the site: mild °F pass every limit as hot °C. The last good days tell what is to be
/// expected, or the same weeks of past years where there are none.
/// </summary>
internal static class UnitDoubts
{
    private const int RecentDays = 14;

    // Older days would be compared with another season's.
    private const int DaysCompared = 21;

    // Wet days are few: it takes more days to know what one brings.
    private const int DaysOfRain = 60;

    /// <summary>The doubt about an answer, or null.</summary>
    public static async Task<FeedQuestion?> AboutAsync(FruitWatchStore store, FeedAtSite at, FeedReading reading, CancellationToken stop)
    {
        var compared = reading with { Days = [.. reading.Days.Where(day => day.Date >= at.Today.PlusDays(-DaysCompared))] };
        var questions = compared.UnitQuestions(await UsualAsync(store, at, stop));
        if (questions.Count == 0)
            return null;
        var fit = questions.SelectMany(question => question.Fits).FirstOrDefault();
        return new FeedQuestion(string.Join(" ", questions.Select(question => question.Sentence)), fit?.ReadAs, fit?.Place, fit?.Value);
    }

    private static async Task<SiteUsual> UsualAsync(FruitWatchStore store, FeedAtSite at, CancellationToken stop)
    {
        var (siteId, today) = (at.Site.Id, at.Today);
        var recent = (await store.LoadWeatherAsync([siteId], today.PlusDays(-DaysOfRain), today.PlusDays(-1), stop))[siteId].ToList();
        var tmax = recent.Where(day => day.Tmax is not null && day.Date >= today.PlusDays(-3 * RecentDays)).OrderByDescending(day => day.Date)
            .Take(RecentDays).Select(day => day.Tmax!.Value).ToList();
        var rain = recent.Select(day => day.Rain).OfType<double>().ToList();
        if (tmax.Count > 0)
            return new SiteUsual(tmax, rain);
        // No day of late: the same weeks of the years that are known.
        List<WeatherDay> past = [.. (await SiteSources.PastAsync(store, at.Site, today, stop)).Days.Where(day => IsThisSeason(day.Date, today))];
        return new SiteUsual([.. past.Select(day => day.Tmax).OfType<double>()], [.. past.Select(day => day.Rain).OfType<double>()]);
    }

    private static bool IsThisSeason(LocalDate date, LocalDate today)
    {
        var apart = Math.Abs(date.DayOfYear - today.DayOfYear);
        return Math.Min(apart, 365 - apart) <= RecentDays;
    }
}
