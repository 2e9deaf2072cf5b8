using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Weather;

/// <summary>What a site uses a feed for, the most trusted first.</summary>
internal enum FeedSlot
{
    /// <summary>A station near by, which measures the days gone by.</summary>
    Station,

    /// <summary>An archive of the days gone by.</summary>
    Archive,

    /// <summary>The days to come.</summary>
    Forecast,
}

/// <summary>A feed in the slot it fills at a site.</summary>
/// <param name="Slot">The slot.</param>
/// <param name="FeedId">The feed.</param>
internal readonly record struct FilledSlot(FeedSlot Slot, long FeedId)
{
    /// <summary>The slots of a site that hold a feed, in order of trust. A feed may fill more than one.</summary>
    public static IEnumerable<FilledSlot> Of(Site site)
    {
        if (site.StationFeedId is { } station)
            yield return new FilledSlot(FeedSlot.Station, station);
        if (site.HistoryFeedId is { } archive)
            yield return new FilledSlot(FeedSlot.Archive, archive);
        if (site.ForecastFeedId is { } forecast)
            yield return new FilledSlot(FeedSlot.Forecast, forecast);
    }

    /// <summary>The same, each feed once, in the most trusted slot that it fills.</summary>
    public static IReadOnlyList<FilledSlot> Feeds(Site site) => [.. Of(site).DistinctBy(slot => slot.FeedId)];
}
