using FruitWatch.Feeds;

namespace FruitWatch.Service.Feeds;

/// <summary>What somebody who chooses a feed is looking for.</summary>
internal enum FeedPurpose
{
    /// <summary>A forecast for any place.</summary>
    Anywhere,

    /// <summary>Places in the United States.</summary>
    UnitedStates,

    /// <summary>Places in the Nordic countries.</summary>
    Nordics,

    /// <summary>Places in Germany.</summary>
    Germany,

    /// <summary>A station of the grower's own.</summary>
    OwnStation,

    /// <summary>Decades of measured or reconstructed days.</summary>
    PastYears,

    /// <summary>Many forecasts at once.</summary>
    Spread,

    /// <summary>Whatever was not put anywhere yet.</summary>
    Other,
}

/// <summary>The shipped descriptions by what they are good for.</summary>
internal static class FeedPurposes
{
    /// <summary>The usual choice for somebody who does not know better.</summary>
    public const string Usual = "open-meteo-hourly";

    private static readonly Dictionary<string, FeedPurpose> s_known = new()
    {
        [Usual] = FeedPurpose.Anywhere,
        ["open-meteo-daily"] = FeedPurpose.Anywhere,
        ["nws-gridpoint"] = FeedPurpose.UnitedStates,
        ["nws-observations"] = FeedPurpose.UnitedStates,
        ["met-norway-compact"] = FeedPurpose.Nordics,
        ["met-norway-complete"] = FeedPurpose.Nordics,
        ["brightsky-hourly"] = FeedPurpose.Germany,
        ["station-daily-csv"] = FeedPurpose.OwnStation,
        ["station-counter-csv"] = FeedPurpose.OwnStation,
        ["open-meteo-archive"] = FeedPurpose.PastYears,
        ["ghcn-access-csv"] = FeedPurpose.PastYears,
        ["ghcn-by-station-csv"] = FeedPurpose.PastYears,
        ["ghcn-dly"] = FeedPurpose.PastYears,
        ["frost-daily"] = FeedPurpose.PastYears,
        ["eccc-climate-daily"] = FeedPurpose.PastYears,
        ["open-meteo-ensemble"] = FeedPurpose.Spread,
    };

    /// <summary>All of them, grouped in the order of the purposes; within a group as they are listed above.</summary>
    public static IEnumerable<IGrouping<FeedPurpose, FeedDescription>> All
    {
        get
        {
            var order = s_known.Keys.ToList();
            return FeedPresets.All.OrderBy(preset => order.IndexOf(preset.Id) is >= 0 and var at ? at : int.MaxValue)
                .GroupBy(preset => s_known.GetValueOrDefault(preset.Id, FeedPurpose.Other)).OrderBy(group => group.Key);
        }
    }
}
