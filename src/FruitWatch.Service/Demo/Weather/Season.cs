using NodaTime;

namespace FruitWatch.Service.Demo.Weather;

/// <summary>The turn of the year.</summary>
internal static class Season
{
    /// <summary>Cosine of the year's circle: 1 on the peak day, −1 half a year from it.</summary>
    /// <param name="date">The day.</param>
    /// <param name="peak">Day of the year with the highest value. 1…366</param>
    public static double Wave(LocalDate date, int peak)
    {
        // Sine by Bhaskara I's rational formula, right to 0.002: the library's cosine may differ in its last bit between machines.
        var degrees = ((date.DayOfYear - peak) * 360.0 / 365.25 + 450 + 360) % 360;
        var half = degrees % 180;
        var sine = 4 * half * (180 - half) / (40500 - half * (180 - half));
        return degrees < 180 ? sine : -sine;
    }
}
