using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Evaporation;

/// <summary>Which rule gave a day's reference evapotranspiration.</summary>
public enum EvaporationRung : byte
{
    /// <summary>FAO-56 Penman–Monteith, missing inputs estimated.</summary>
    PenmanMonteith,

    /// <summary>Hargreaves–Samani, from temperature alone.</summary>
    HargreavesSamani,

    /// <summary>The feed's own figure.</summary>
    Feed,
}

/// <summary>
/// Chooses the best rule that a day's weather allows: Penman–Monteith where at least one of humidity, wind and radiation is
/// known, else Hargreaves–Samani; the feed's own figure only where the feed's description says so.
/// </summary>
/// <param name="Latitude">[°], south negative</param>
/// <param name="Elevation">[m]</param>
/// <param name="Coastal">Near a large water.</param>
public sealed record EvaporationLadder(double Latitude, double Elevation = 0, bool Coastal = false)
{
    /// <summary>Hargreaves–Samani on every day, whatever else is known.</summary>
    public bool TemperatureOnly { get; init; }

    /// <summary>The feed's own figure where the day has one.</summary>
    public bool TrustFeed { get; init; }

    /// <summary>Reference evapotranspiration of a day with known extremes, and the rung it came from. [mm/d]</summary>
    /// <exception cref="ArgumentException">An extreme of temperature is unknown.</exception>
    public (double Et0, EvaporationRung Rung) Of(WeatherDay day)
    {
        if (day.Tmax is not { } tmax || day.Tmin is not { } tmin)
            throw new ArgumentException($"{day.Date:uuuu-MM-dd} has no temperature extremes; fill gaps first.", nameof(day));

        if (TrustFeed && day.FeedEvapotranspiration is { } own)
            return (Math.Max(0, own), EvaporationRung.Feed);

        var top = Sun.ExtraterrestrialRadiation(Latitude, day.Date.DayOfYear);
        var more = day.Humidity is not null || day.DewPoint is not null || day.Wind is not null || day.Radiation is not null;
        if (TemperatureOnly || !more)
            return (ReferenceEvapotranspiration.HargreavesSamani(tmax, tmin, top), EvaporationRung.HargreavesSamani);

        var actual = ActualVapourPressure(day, tmax, tmin);
        var solar = day.Radiation ?? Radiation.FromTemperatureRange(tmax, tmin, Coastal, Elevation, top);
        var net = Radiation.NetShortwave(solar)
            - Radiation.NetLongwave(tmax, tmin, actual, solar, Radiation.ClearSky(Elevation, top));
        var wind = day.Wind ?? ReferenceEvapotranspiration.UsualWind;
        return (ReferenceEvapotranspiration.PenmanMonteith(tmax, tmin, actual, wind, net, Elevation), EvaporationRung.PenmanMonteith);
    }

    /// <summary>Mean relative humidity of a day, estimated from the minimum where it was not measured. [%]</summary>
    public static double Humidity(WeatherDay day) =>
        day.Humidity ?? Vapour.MeanHumidity(ActualVapourPressure(day, day.Tmax!.Value, day.Tmin!.Value), day.Tmax.Value, day.Tmin.Value);

    private static double ActualVapourPressure(WeatherDay day, double tmax, double tmin) =>
        day.Humidity is { } humidity ? Vapour.FromMeanHumidity(tmax, tmin, humidity)
        : Vapour.FromDewPoint(day.DewPoint ?? tmin);
}
