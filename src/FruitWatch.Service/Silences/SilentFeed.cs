using FruitWatch.Service.Weather;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Silences;

/// <summary>A feed that has been silent at some sites, not yet in words.</summary>
/// <param name="Title">What the feed is called.</param>
/// <param name="Since">The first of the sites' silences began.</param>
/// <param name="Sites">The sites, in order of their keys.</param>
internal sealed record SilentFeed(string Title, Instant Since, IReadOnlyList<SilentSite> Sites);

/// <summary>A site at which a feed is silent.</summary>
/// <param name="Site">The site.</param>
/// <param name="Health">How the feed stands there.</param>
/// <param name="Since">No good answer since then.</param>
/// <param name="ForecastOf">When the site's last forecast was issued; null where it has none.</param>
internal sealed record SilentSite(Site Site, SiteFeedHealth Health, Instant Since, Instant? ForecastOf)
{
    /// <summary>A moment by the site's clock.</summary>
    public LocalDateTime Local(Instant moment) => moment.InZone(DateTimeZoneProviders.Tzdb[Site.ZoneId]).LocalDateTime;
}
