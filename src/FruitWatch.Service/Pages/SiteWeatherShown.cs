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

    /// <summary>What was told of a day. What only the usual of the season stands in for is not: a day of which nobody knows is no dry day.</summary>
    public static double? Told(Provenance from, double? value) => from is Provenance.Unknown or Provenance.GapFilled ? null : value;
}
