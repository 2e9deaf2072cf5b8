namespace FruitWatch.Service.Weather;

/// <summary>What a value of a day's weather rests on, the most trusted first.</summary>
internal enum SourceKind
{
    /// <summary>The grower's own rain gauge.</summary>
    Gauge,

    /// <summary>A station near by.</summary>
    Station,

    /// <summary>An archive, such as a reanalysis.</summary>
    Archive,

    /// <summary>What the forecast feed says of days gone by: forecasts of earlier days, not measurements.</summary>
    ForecastPast,

    /// <summary>A forecast.</summary>
    Forecast,

    /// <summary>Put in for a day of which nothing is known.</summary>
    GapFilled,
}

/// <summary>Where a value came from.</summary>
/// <param name="Kind">What it rests on.</param>
/// <param name="FeedId">The feed; null for the gauge and for what was filled in.</param>
/// <param name="Title">What the feed is called; empty for no feed.</param>
internal sealed record DaySource(SourceKind Kind, long? FeedId = null, string Title = "")
{
    public static readonly DaySource Gauge = new(SourceKind.Gauge);

    public static readonly DaySource GapFilled = new(SourceKind.GapFilled);
}

/// <summary>Where a day's values came from; null where there is none.</summary>
/// <param name="Temperature">Both extremes: they are always of one source where one source has both.</param>
/// <param name="Rain">Rain.</param>
internal readonly record struct DaySources(DaySource? Temperature, DaySource? Rain);
