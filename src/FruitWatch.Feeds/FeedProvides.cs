namespace FruitWatch.Feeds;

/// <summary>What a feed gives.</summary>
public enum FeedProvides
{
    /// <summary>Coming days.</summary>
    Forecast,

    /// <summary>Past days.</summary>
    History,

    /// <summary>Past and coming days in one answer.</summary>
    Both,

    /// <summary>Coming days, several times over: one series per member.</summary>
    Ensemble,
}
