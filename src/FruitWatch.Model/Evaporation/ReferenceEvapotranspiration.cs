namespace FruitWatch.Model.Evaporation;

/// <summary>Evapotranspiration of a reference grass: what the air asks for. [mm/d], never below 0. FAO-56 chapters 2–4.</summary>
public static class ReferenceEvapotranspiration
{
    /// <summary>Depth of water that a unit of energy evaporates: 1/λ. [mm per MJ/m²]</summary>
    /// <remarks>FAO-56 eq. 20.</remarks>
    public const double DepthPerEnergy = 0.408;

    /// <summary>Wind at 2 m where none is known. [m/s]</summary>
    /// <remarks>FAO-56 p. 63.</remarks>
    public const double UsualWind = 2;

    /// <summary>Least wind that eq. 6 is given, for air that is never quite still. [m/s]</summary>
    /// <remarks>FAO-56 p. 63.</remarks>
    private const double LeastWind = 0.5;

    /// <summary>Hargreaves and Samani: by temperature alone. [mm/d]</summary>
    /// <param name="tmax">[°C]</param>
    /// <param name="tmin">[°C]</param>
    /// <param name="extraterrestrial">Radiation at the top of the air. [MJ/m²/d], from 0 (polar night)</param>
    /// <remarks>FAO-56 eq. 52.</remarks>
    public static double HargreavesSamani(double tmax, double tmin, double extraterrestrial) =>
        Math.Max(0, 0.0023 * ((tmax + tmin) / 2 + 17.8) * Math.Sqrt(Math.Max(0, tmax - tmin)) * DepthPerEnergy * extraterrestrial);

    /// <summary>FAO Penman–Monteith of a day, without heat into the soil. [mm/d]</summary>
    /// <param name="tmax">[°C]</param>
    /// <param name="tmin">[°C]</param>
    /// <param name="actual">Actual vapour pressure. [kPa]</param>
    /// <param name="wind">At 2 m. [m/s]; at least 0.5 is taken.</param>
    /// <param name="net">Net radiation, less heat into the soil where that is known. [MJ/m²/d]</param>
    /// <param name="elevation">[m]</param>
    /// <remarks>FAO-56 eq. 6 with G = 0 (eq. 42).</remarks>
    public static double PenmanMonteith(double tmax, double tmin, double actual, double wind, double net, double elevation)
    {
        var t = (tmax + tmin) / 2;
        var u = Math.Max(LeastWind, wind);
        var slope = Vapour.Slope(t);
        var gamma = Vapour.PsychrometricConstant(Vapour.AirPressure(elevation));
        var deficit = Vapour.Deficit(tmax, tmin, actual);
        return Math.Max(0, (DepthPerEnergy * slope * net + gamma * 900 / (t + 273) * u * deficit) / (slope + gamma * (1 + 0.34 * u)));
    }

    /// <summary>Wind at 2 m from wind at another height. [m/s]</summary>
    /// <param name="wind">[m/s]</param>
    /// <param name="height">Height of the sensor above the ground. [m], above 0.1</param>
    /// <remarks>FAO-56 eq. 47.</remarks>
    public static double WindAtTwoMetres(double wind, double height) => wind * 4.87 / Math.Log(67.8 * height - 5.42);
}
