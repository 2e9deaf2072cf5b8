namespace FruitWatch.Model.Season;

/// <summary>
/// What kept a bed from being picked within 12 months, judged by where it stood on day 365 and by what had stopped it until then.
/// </summary>
public enum NoPickReason : byte
{
    /// <summary>The spawn run was not done, and would have been but for days so hot that each set it back by a tenth.</summary>
    HeatHarmedSpawn,

    /// <summary>The spawn run was not done: too cold, too hot, too dry or too wet for too long.</summary>
    SpawnRunNotDone,

    /// <summary>Run through, but younger than the species ever fruits.</summary>
    TooYoung,

    /// <summary>Ready, and on most days of waiting it lacked a soaking.</summary>
    WaitedForSoak,

    /// <summary>Ready, and on most days of waiting it lacked frosty nights.</summary>
    WaitedForFrost,

    /// <summary>Ready, and on most days of waiting it lacked a fall of temperature.</summary>
    WaitedForCooling,

    /// <summary>Ready, and on most days of waiting it was too warm to pin.</summary>
    TooWarmToPin,

    /// <summary>Ready, and on most days of waiting it was too cold to pin.</summary>
    TooColdToPin,

    /// <summary>Pinning began and failed.</summary>
    PinningFailed,

    /// <summary>The last flush that grew was lost to frost.</summary>
    FlushLostToFrost,

    /// <summary>The last flush that grew was lost to drought.</summary>
    FlushLostToDrought,

    /// <summary>The last flush that grew was lost for want of air in a soaked bed.</summary>
    FlushLostToWet,

    /// <summary>The last flush that grew was lost to days too cold to grow.</summary>
    FlushLostToCold,

    /// <summary>The last flush that grew was lost to days too hot to grow.</summary>
    FlushLostToHeat,

    /// <summary>Nothing was wrong: on day 365 it was just ready, pinning or growing.</summary>
    OnItsWay,
}
