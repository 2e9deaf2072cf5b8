using FruitWatch.Model.Weather;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Weather;

namespace FruitWatch.Service.Pages;

/// <summary>A site's weather from today on, and whom it is owed to.</summary>
internal sealed record SiteWeatherShown(SiteBook Site, IReadOnlyDictionary<long, FeedCredit> Known)
{
    private const int DaysShown = 7;

    /// <summary>How the site's feeds stand.</summary>
    public IReadOnlyList<SiteFeedHealth> Feeds { get; init; } = [];

    public IReadOnlyList<WeatherDay> Days { get; } =
        [.. Site.Weather.Where(day => day.Date >= Site.Today).Take(DaysShown)];

    public IEnumerable<FeedCredit> Credits => FilledSlot.Feeds(Site.Row).Reverse()
        .Select(slot => slot.FeedId).Where(Known.ContainsKey).Select(id => Known[id]).Distinct();
}
