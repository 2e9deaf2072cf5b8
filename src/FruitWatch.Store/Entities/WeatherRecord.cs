using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>One local day of a site as one feed last told it. A missing value is null, never a default.</summary>
public sealed class WeatherRecord
{
    /// <summary>The site.</summary>
    public long SiteId { get; set; }

    /// <summary>The feed that told it.</summary>
    public long FeedId { get; set; }

    /// <summary>The site's local civil day.</summary>
    public LocalDate Date { get; set; }

    /// <summary>Highest air temperature. [°C]</summary>
    public double? Tmax { get; set; }

    /// <summary>Lowest air temperature. [°C]</summary>
    public double? Tmin { get; set; }

    /// <summary>Rain and melted snow. [mm]</summary>
    public double? Rain { get; set; }

    /// <summary>Mean relative humidity. [%]</summary>
    public double? Humidity { get; set; }

    /// <summary>Mean dew point. [°C]</summary>
    public double? DewPoint { get; set; }

    /// <summary>Mean wind speed 2 m above the ground. [m/s]</summary>
    public double? Wind { get; set; }

    /// <summary>Global solar radiation on a level surface. [MJ/m²/d]</summary>
    public double? Radiation { get; set; }

    /// <summary>The feed's own reference evapotranspiration. [mm/d]</summary>
    public double? FeedEvapotranspiration { get; set; }

    /// <summary>Where <see cref="Tmax"/> came from.</summary>
    public Provenance TmaxFrom { get; set; }

    /// <summary>Where <see cref="Tmin"/> came from.</summary>
    public Provenance TminFrom { get; set; }

    /// <summary>Where <see cref="Rain"/> came from.</summary>
    public Provenance RainFrom { get; set; }

    /// <summary>When the feed issued it, or when it was fetched where the feed does not say.</summary>
    public Instant IssuedAt { get; set; }

    /// <summary>When it was fetched.</summary>
    public Instant FetchedAt { get; set; }

    /// <summary>The day as the model reads it.</summary>
    public WeatherDay ToDay() => new(Date, Tmax, Tmin, Rain)
    {
        Humidity = Humidity,
        DewPoint = DewPoint,
        Wind = Wind,
        Radiation = Radiation,
        FeedEvapotranspiration = FeedEvapotranspiration,
        TmaxFrom = TmaxFrom,
        TminFrom = TminFrom,
        RainFrom = RainFrom,
    };

    /// <summary>The row that keeps a day.</summary>
    public static WeatherRecord Of(long siteId, long feedId, WeatherDay day, Instant issuedAt, Instant fetchedAt) => new()
    {
        SiteId = siteId,
        FeedId = feedId,
        Date = day.Date,
        Tmax = day.Tmax,
        Tmin = day.Tmin,
        Rain = day.Rain,
        Humidity = day.Humidity,
        DewPoint = day.DewPoint,
        Wind = day.Wind,
        Radiation = day.Radiation,
        FeedEvapotranspiration = day.FeedEvapotranspiration,
        TmaxFrom = day.TmaxFrom,
        TminFrom = day.TminFrom,
        RainFrom = day.RainFrom,
        IssuedAt = issuedAt,
        FetchedAt = fetchedAt,
    };
}
