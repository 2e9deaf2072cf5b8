using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>The place a feed is asked about.</summary>
/// <param name="Latitude">North positive. [°], −90…90</param>
/// <param name="Longitude">East positive. [°], −180…180</param>
/// <param name="Elevation">Above sea level, where known. [m]</param>
/// <param name="Zone">The zone whose civil days the weather is cut into.</param>
public sealed record FeedSite(double Latitude, double Longitude, double? Elevation, DateTimeZone Zone)
{
    /// <summary>The station's identifier in the feed's own list, for feeds that are asked by station.</summary>
    public string? Station { get; init; }
}
