namespace FruitWatch.Model.Account;

/// <summary>Where a bed is in its life.</summary>
public enum Phase : byte
{
    /// <summary>Mycelium is running through the substrate.</summary>
    SpawnRun,

    /// <summary>Run through; waiting for temperature and triggers.</summary>
    Ready,

    /// <summary>Triggered; pins are forming.</summary>
    Pinning,

    /// <summary>Pins are growing to size.</summary>
    Growing,

    /// <summary>A flush can be picked.</summary>
    Picking,

    /// <summary>Resting between flushes.</summary>
    Resting,

    /// <summary>The filling has given what it can.</summary>
    Spent,
}

/// <summary>What happened on a day of the account. At most one a day; the grower's log has the last word.</summary>
public enum AccountEvent : byte
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Spawn run finished.</summary>
    Colonised,

    /// <summary>All triggers met: pins begin to form.</summary>
    Triggered,

    /// <summary>Pinning failed for want of warmth, cool, water or damp air.</summary>
    AttemptFailed,

    /// <summary>Pins have formed, or were seen.</summary>
    Pins,

    /// <summary>The flush is lost to frost or drought.</summary>
    FlushLost,

    /// <summary>First mushrooms of picking size, or picked.</summary>
    Harvest,

    /// <summary>The flush is over.</summary>
    FlushOver,

    /// <summary>Rested: ready for the next flush.</summary>
    Ready,

    /// <summary>No further flush is to be expected of this filling.</summary>
    Spent,

    /// <summary>The bed was hot enough to set the spawn run back.</summary>
    HeatDamage,
}

/// <summary>What keeps a bed from fruiting today.</summary>
public enum LimitingFactor : byte
{
    /// <summary>Too dry or too wet.</summary>
    Moisture,

    /// <summary>Pin zone outside the species' temperature band.</summary>
    Temperature,

    /// <summary>Air too dry.</summary>
    Humidity,

    /// <summary>Waiting for a soaking.</summary>
    Soak,

    /// <summary>Waiting for frosty nights.</summary>
    Frost,

    /// <summary>Waiting for a fall of temperature.</summary>
    Cooling,
}
