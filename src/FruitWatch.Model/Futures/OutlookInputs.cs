using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>What the futures of a site are made from.</summary>
public sealed record OutlookInputs
{
    /// <summary>Length of an outlook where nothing else is asked for. [d]</summary>
    public const int UsualDays = 120;

    /// <summary>Number of futures where nothing else is asked for.</summary>
    public const int UsualMembers = 64;

    /// <summary>Names the site; with <see cref="Today"/> it seeds every draw.</summary>
    public required string SiteKey { get; init; }

    /// <summary>Day of issue: the first day of the futures.</summary>
    public required LocalDate Today { get; init; }

    /// <summary>
    /// The forecast in use, one series, at most one entry a day; may be empty. Days before today serve only to fill a hole at
    /// its start.
    /// </summary>
    public IReadOnlyList<WeatherDay> Forecast { get; init; } = [];

    /// <summary>Days since <see cref="Forecast"/> was issued: its errors are those of so much longer a lead. At least 0.</summary>
    public int ForecastAge { get; init; }

    /// <summary>The members of the feed's ensemble, where it has one; may be of unequal length and have missing days.</summary>
    public IReadOnlyList<IReadOnlyList<WeatherDay>> Ensemble { get; init; } = [];

    /// <summary>The site's past.</summary>
    public SiteHistory History { get; init; } = SiteHistory.None;

    /// <summary>Errors of a single forecast.</summary>
    public required ForecastErrorDefaults Errors { get; init; }

    /// <summary>Rule for the reference evapotranspiration; brings the site's latitude.</summary>
    public required EvaporationLadder Ladder { get; init; }

    /// <summary>Days of the outlook, today included. At least 1.</summary>
    public int Days { get; init; } = UsualDays;

    /// <summary>Futures wanted; an ensemble gives the nearest whole multiple of its members. At least 1.</summary>
    public int Members { get; init; } = UsualMembers;
}
