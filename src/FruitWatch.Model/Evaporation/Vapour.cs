namespace FruitWatch.Model.Evaporation;

/// <summary>Vapour pressure and humidity of air. FAO-56 chapter 3.</summary>
public static class Vapour
{
    /// <summary>Air pressure at a height above the sea. [kPa]</summary>
    /// <param name="elevation">[m]</param>
    /// <remarks>FAO-56 eq. 7.</remarks>
    public static double AirPressure(double elevation) =>
        101.3 * Math.Pow((293 - 0.0065 * elevation) / 293, 5.26);

    /// <summary>Psychrometric constant. [kPa/°C]</summary>
    /// <param name="pressure">Air pressure. [kPa]</param>
    /// <remarks>FAO-56 eq. 8.</remarks>
    public static double PsychrometricConstant(double pressure) => 0.000665 * pressure;

    /// <summary>Saturation vapour pressure. [kPa]</summary>
    /// <param name="t">Air temperature. [°C]</param>
    /// <remarks>FAO-56 eq. 11.</remarks>
    public static double Saturation(double t) => 0.6108 * Math.Exp(17.27 * t / (t + 237.3));

    /// <summary>Mean saturation vapour pressure of a day. [kPa]</summary>
    /// <remarks>FAO-56 eq. 12: the mean of the extremes, not the value at the mean temperature, which is too low.</remarks>
    public static double MeanSaturation(double tmax, double tmin) => (Saturation(tmax) + Saturation(tmin)) / 2;

    /// <summary>Slope of the saturation curve. [kPa/°C]</summary>
    /// <param name="t">Air temperature. [°C]</param>
    /// <remarks>FAO-56 eq. 13.</remarks>
    public static double Slope(double t) => 4098 * Saturation(t) / ((t + 237.3) * (t + 237.3));

    /// <summary>Actual vapour pressure from the dew point. [kPa]</summary>
    /// <remarks>FAO-56 eq. 14; with the daily minimum for the dew point it is eq. 48.</remarks>
    public static double FromDewPoint(double dewPoint) => Saturation(dewPoint);

    /// <summary>Actual vapour pressure from wet and dry bulb. [kPa]</summary>
    /// <param name="coefficient">0.000662 ventilated, 0.0008 naturally ventilated, 0.0012 indoors. [1/°C]</param>
    /// <param name="dryBulb">[°C]</param>
    /// <param name="pressure">Air pressure. [kPa]</param>
    /// <param name="wetBulb">[°C]</param>
    /// <remarks>FAO-56 eq. 15 and 16.</remarks>
    public static double FromPsychrometer(double dryBulb, double wetBulb, double pressure, double coefficient) =>
        Saturation(wetBulb) - coefficient * pressure * (dryBulb - wetBulb);

    /// <summary>Actual vapour pressure from both extremes of relative humidity. [kPa]</summary>
    /// <remarks>FAO-56 eq. 17.</remarks>
    public static double FromHumidityExtremes(double tmax, double tmin, double humidityMax, double humidityMin) =>
        (Saturation(tmin) * humidityMax / 100 + Saturation(tmax) * humidityMin / 100) / 2;

    /// <summary>Actual vapour pressure from the highest relative humidity. [kPa]</summary>
    /// <remarks>FAO-56 eq. 18.</remarks>
    public static double FromHighestHumidity(double tmin, double humidityMax) => Saturation(tmin) * humidityMax / 100;

    /// <summary>Actual vapour pressure from mean relative humidity. [kPa]</summary>
    /// <remarks>FAO-56 eq. 19.</remarks>
    public static double FromMeanHumidity(double tmax, double tmin, double humidity) =>
        MeanSaturation(tmax, tmin) * humidity / 100;

    /// <summary>Relative humidity of air. [%]</summary>
    /// <param name="actual">Actual vapour pressure. [kPa]</param>
    /// <param name="t">Air temperature. [°C]</param>
    /// <remarks>FAO-56 eq. 10.</remarks>
    public static double RelativeHumidity(double actual, double t) => 100 * actual / Saturation(t);

    /// <summary>Mean relative humidity of a day for which none was measured, taking the minimum for the dew point. [%]</summary>
    /// <remarks>FAO-56 eq. 48 in eq. 12 and 10.</remarks>
    public static double HumidityFromMinimum(double tmax, double tmin) => MeanHumidity(Saturation(tmin), tmax, tmin);

    /// <summary>Mean relative humidity of a day from its actual vapour pressure. [%]</summary>
    public static double MeanHumidity(double actual, double tmax, double tmin) => 100 * actual / MeanSaturation(tmax, tmin);

    /// <summary>Vapour pressure deficit of a day, never below 0. [kPa]</summary>
    /// <param name="tmax">[°C]</param>
    /// <param name="tmin">[°C]</param>
    /// <param name="actual">Actual vapour pressure. [kPa]</param>
    /// <remarks>FAO-56 p. 39, es − ea.</remarks>
    public static double Deficit(double tmax, double tmin, double actual) => Math.Max(0, MeanSaturation(tmax, tmin) - actual);

    /// <summary>Dew point of air with a given vapour pressure. [°C]</summary>
    /// <param name="actual">[kPa], above 0</param>
    /// <remarks>FAO-56 eq. 3-11 (Annex 3).</remarks>
    public static double DewPoint(double actual)
    {
        var ln = Math.Log(actual);
        return (116.91 + 237.3 * ln) / (16.78 - ln);
    }
}
