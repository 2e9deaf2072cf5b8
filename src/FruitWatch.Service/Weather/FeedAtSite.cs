using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Store.Entities;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace FruitWatch.Service.Weather;

/// <summary>A feed that is to be asked for a site.</summary>
/// <param name="Site">The site.</param>
/// <param name="Feed">The feed.</param>
/// <param name="Description">How it is asked and read.</param>
/// <param name="Place">The site as the feed sees it.</param>
/// <param name="Today">The site's local day.</param>
internal sealed record FeedAtSite(Site Site, Feed Feed, FeedDescription Description, FeedSite Place, LocalDate Today)
{
    private static readonly JsonSerializerOptions s_json =
        new JsonSerializerOptions(JsonSerializerDefaults.Web).ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);

    /// <summary>How far one request goes.</summary>
    public FeedReach Reach { get; } = FeedReach.Of(Description);

    /// <summary>The provider's key; null where there is none.</summary>
    public string? Key { get; init; }

    /// <summary>The file handed in for the feed.</summary>
    public string? UploadPath { get; init; }

    /// <summary>What discovery steps found earlier.</summary>
    public FeedCaptures? Captures { get; init; }

    /// <summary>Names the draws of the pair's times.</summary>
    public long Seed => Site.Id * 1_000_003 + Feed.Id;

    public FeedRequest Request(LocalDate? start = null, LocalDate? end = null) =>
        new(Today) { Start = start, End = end, Key = Key, UploadPath = UploadPath, Captures = Captures };

    /// <exception cref="FeedDescriptionException">The description cannot be read.</exception>
    public static FeedAtSite Of(
        Site site, Feed feed, SiteFeed? told, Instant now, IReadOnlySet<string> localStations, string? key, string uploadPath)
    {
        var zone = DateTimeZoneProviders.Tzdb[site.ZoneId];
        return new FeedAtSite(
            site,
            feed,
            FeedDescription.Parse(feed.Description, localStations),
            new FeedSite(site.Latitude, site.Longitude, site.Elevation, zone) { Station = site.Station },
            now.InZone(zone).Date)
        {
            Key = key,
            UploadPath = uploadPath,
            Captures = told?.Captures is { } captures ? JsonSerializer.Deserialize<FeedCaptures>(captures, s_json) : null,
        };
    }

    public static string? Write(FeedCaptures? captures) => captures is null ? null : JsonSerializer.Serialize(captures, s_json);
}
