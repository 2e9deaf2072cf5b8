using FruitWatch.Model.Weather;
using FruitWatch.Service.Beds;

namespace FruitWatch.Service.Pages;

/// <summary>A site's weather from today on, and whom it is owed to.</summary>
internal sealed record SiteWeatherShown(SiteBook Site, IReadOnlyDictionary<long, FeedCredit> Known)
{
    private const int DaysShown = 7;

    public IReadOnlyList<WeatherDay> Days { get; } =
        [.. Site.Weather.Where(day => day.Date >= Site.Today).Take(DaysShown)];

    public IEnumerable<FeedCredit> Credits => new[] { Site.Row.ForecastFeedId, Site.Row.HistoryFeedId }
        .OfType<long>().Distinct().Where(Known.ContainsKey).Select(id => Known[id]).Distinct();
}
