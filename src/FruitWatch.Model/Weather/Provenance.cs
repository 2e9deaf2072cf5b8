namespace FruitWatch.Model.Weather;

/// <summary>Where a weather value came from. Kept beside every value, so that nothing unknown is taken for measured.</summary>
public enum Provenance : byte
{
    /// <summary>No value. Unknown rain is never zero.</summary>
    Unknown = 0,

    /// <summary>Measured at a station, or a reanalysis of the past.</summary>
    Observed,

    /// <summary>Forecast by the feed.</summary>
    Forecast,

    /// <summary>Put in for a missing day: interpolated, or the site's climatology.</summary>
    GapFilled,

    /// <summary>Read by the grower from a rain gauge at the site.</summary>
    Gauge,

    /// <summary>Derived from other values of the day.</summary>
    Estimated,
}
