namespace FruitWatch.Model.Evaporation;

/// <summary>Radiation at the ground. [MJ/m²/d] throughout. FAO-56 chapter 3.</summary>
public static class Radiation
{
    /// <summary>Stefan–Boltzmann constant. [MJ/K⁴/m²/d]</summary>
    public const double StefanBoltzmann = 4.903e-9;

    /// <summary>Reflectivity of the reference grass.</summary>
    public const double GrassAlbedo = 0.23;

    /// <summary>Relative shortwave radiation taken where there is no daylight to measure it by (polar night): half cloudy.</summary>
    /// <remarks>FAO-56 gives 0.33 for heavy overcast and 1 for a clear sky, and no value for a night without a day.</remarks>
    private const double RelativeShortwaveInPolarNight = 0.5;

    /// <summary>Clear-sky radiation.</summary>
    /// <param name="elevation">[m]</param>
    /// <param name="extraterrestrial">Radiation at the top of the air.</param>
    /// <remarks>FAO-56 eq. 37.</remarks>
    public static double ClearSky(double elevation, double extraterrestrial) => (0.75 + 2e-5 * elevation) * extraterrestrial;

    /// <summary>Solar radiation from hours of sunshine.</summary>
    /// <param name="sunshine">[h]</param>
    /// <param name="daylight">Longest possible sunshine. [h]</param>
    /// <param name="extraterrestrial">Radiation at the top of the air.</param>
    /// <param name="a">Share that an overcast sky lets through.</param>
    /// <param name="b">Share that full sunshine adds.</param>
    /// <remarks>FAO-56 eq. 35; a 0.25 and b 0.50 unless calibrated locally.</remarks>
    public static double FromSunshine(
        double sunshine, double daylight, double extraterrestrial, double a = 0.25, double b = 0.50) =>
        (a + b * sunshine / daylight) * extraterrestrial;

    /// <summary>Solar radiation from the range of temperature, at most that of a clear sky.</summary>
    /// <param name="tmax">[°C]</param>
    /// <param name="tmin">[°C]</param>
    /// <param name="coastal">Near a large water: kRs 0.19 in place of 0.16.</param>
    /// <param name="elevation">[m]</param>
    /// <param name="extraterrestrial">Radiation at the top of the air.</param>
    /// <remarks>FAO-56 eq. 50; the cap at eq. 37 is FAO-56's own (p. 60).</remarks>
    public static double FromTemperatureRange(double tmax, double tmin, bool coastal, double elevation, double extraterrestrial) =>
        Math.Min(
            (coastal ? 0.19 : 0.16) * Math.Sqrt(Math.Max(0, tmax - tmin)) * extraterrestrial,
            ClearSky(elevation, extraterrestrial));

    /// <summary>Net shortwave radiation of the reference grass.</summary>
    /// <remarks>FAO-56 eq. 38.</remarks>
    public static double NetShortwave(double solar) => (1 - GrassAlbedo) * solar;

    /// <summary>Net longwave radiation, outgoing.</summary>
    /// <param name="tmax">[°C]</param>
    /// <param name="tmin">[°C]</param>
    /// <param name="actual">Actual vapour pressure. [kPa]</param>
    /// <param name="solar">Solar radiation.</param>
    /// <param name="clearSky">Clear-sky radiation; 0 in polar night.</param>
    /// <remarks>FAO-56 eq. 39, relative shortwave radiation at most 1.</remarks>
    public static double NetLongwave(double tmax, double tmin, double actual, double solar, double clearSky)
    {
        var relative = clearSky > 0 ? Math.Min(1, solar / clearSky) : RelativeShortwaveInPolarNight;
        return (BlackBody(tmax) + BlackBody(tmin)) / 2 * (0.34 - 0.14 * Math.Sqrt(actual)) * (1.35 * relative - 0.35);
    }

    /// <summary>Radiation of a black body.</summary>
    /// <param name="t">[°C]</param>
    /// <remarks>FAO-56 eq. 39, which takes 273.16 for the zero of the Celsius scale.</remarks>
    public static double BlackBody(double t) => StefanBoltzmann * Math.Pow(t + 273.16, 4);
}
