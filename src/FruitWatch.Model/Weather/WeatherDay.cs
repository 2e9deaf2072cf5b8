using NodaTime;

namespace FruitWatch.Model.Weather;

/// <summary>
/// One local civil day of a site's weather, as far as it is known. A missing value is null, never a default.
/// </summary>
/// <param name="Date">The site's local civil day.</param>
/// <param name="Tmax">Highest air temperature at screen height. [°C], −90…60</param>
/// <param name="Tmin">Lowest air temperature at screen height. [°C], −90…60, at most <paramref name="Tmax"/></param>
/// <param name="Rain">Rain and melted snow. [mm], 0…2000</param>
public sealed record WeatherDay(LocalDate Date, double? Tmax, double? Tmin, double? Rain)
{
    /// <summary>Mean relative humidity. [%], 0…100</summary>
    public double? Humidity { get; init; }

    /// <summary>Mean dew point; used for the vapour pressure when there is no humidity. [°C]</summary>
    public double? DewPoint { get; init; }

    /// <summary>Mean wind speed 2 m above the ground. [m/s]</summary>
    public double? Wind { get; init; }

    /// <summary>Global solar radiation on a level surface. [MJ/m²/d]</summary>
    public double? Radiation { get; init; }

    /// <summary>The feed's own reference evapotranspiration; used only where the feed's description says so. [mm/d]</summary>
    public double? FeedEvapotranspiration { get; init; }

    /// <summary>Where <see cref="Tmax"/> came from.</summary>
    public Provenance TmaxFrom { get; init; } = Tmax is null ? Provenance.Unknown : Provenance.Observed;

    /// <summary>Where <see cref="Tmin"/> came from.</summary>
    public Provenance TminFrom { get; init; } = Tmin is null ? Provenance.Unknown : Provenance.Observed;

    /// <summary>Where <see cref="Rain"/> came from.</summary>
    public Provenance RainFrom { get; init; } = Rain is null ? Provenance.Unknown : Provenance.Observed;

    /// <summary>Daily mean as FAO-56 eq. 9 defines it: halfway between the extremes. [°C]</summary>
    public double? Tmean => (Tmax + Tmin) / 2;

    /// <summary>The same day with every known value marked as coming from <paramref name="source"/>.</summary>
    public WeatherDay From(Provenance source) => this with
    {
        TmaxFrom = Tmax is null ? Provenance.Unknown : source,
        TminFrom = Tmin is null ? Provenance.Unknown : source,
        RainFrom = Rain is null ? Provenance.Unknown : source,
    };
}
