namespace FruitWatch.Model.Evaporation;

/// <summary>Geometry of the sun by day of the year and latitude. FAO-56 chapter 3.</summary>
/// <remarks>Geometric: day length is up to 0.4 h shorter than from civil sunrise to sunset, which counts refraction and the disc.</remarks>
public static class Sun
{
    /// <summary>Solar constant. [MJ/m²/min]</summary>
    public const double SolarConstant = 0.0820;

    /// <summary>Inverse relative distance from earth to sun. [1]</summary>
    /// <param name="dayOfYear">1…366</param>
    /// <remarks>FAO-56 eq. 23.</remarks>
    public static double InverseDistance(int dayOfYear) => 1 + 0.033 * Math.Cos(2 * Math.PI * dayOfYear / 365);

    /// <summary>Declination of the sun. [rad]</summary>
    /// <param name="dayOfYear">1…366</param>
    /// <remarks>FAO-56 eq. 24.</remarks>
    public static double Declination(int dayOfYear) => 0.409 * Math.Sin(2 * Math.PI * dayOfYear / 365 - 1.39);

    /// <summary>Hour angle of sunset: 0 in polar night, π in polar day. [rad]</summary>
    /// <param name="latitude">[°], south negative</param>
    /// <param name="dayOfYear">1…366</param>
    /// <remarks>FAO-56 eq. 25, its argument clamped to −1…1.</remarks>
    public static double SunsetHourAngle(double latitude, int dayOfYear) =>
        Math.Acos(Math.Clamp(-Math.Tan(Radians(latitude)) * Math.Tan(Declination(dayOfYear)), -1, 1));

    /// <summary>Radiation at the top of the air. [MJ/m²/d]</summary>
    /// <param name="latitude">[°], south negative</param>
    /// <param name="dayOfYear">1…366</param>
    /// <remarks>FAO-56 eq. 21.</remarks>
    public static double ExtraterrestrialRadiation(double latitude, int dayOfYear)
    {
        var phi = Radians(latitude);
        var delta = Declination(dayOfYear);
        var omega = SunsetHourAngle(latitude, dayOfYear);
        return 24 * 60 / Math.PI * SolarConstant * InverseDistance(dayOfYear)
            * (omega * Math.Sin(phi) * Math.Sin(delta) + Math.Cos(phi) * Math.Cos(delta) * Math.Sin(omega));
    }

    /// <summary>Longest possible sunshine. [h]</summary>
    /// <param name="latitude">[°], south negative</param>
    /// <param name="dayOfYear">1…366</param>
    /// <remarks>FAO-56 eq. 34.</remarks>
    public static double DaylightHours(double latitude, int dayOfYear) => 24 / Math.PI * SunsetHourAngle(latitude, dayOfYear);

    /// <summary>An angle in radians. [rad]</summary>
    /// <remarks>FAO-56 eq. 22.</remarks>
    internal static double Radians(double degrees) => degrees * Math.PI / 180;
}
