namespace FruitWatch.Model.Weather;

/// <summary>Frost by the lowest air temperature at screen height.</summary>
/// <remarks>
/// The classes are printed in whole degrees Fahrenheit, with gaps between them; they are closed halfway, at 28.5 °F (−1.9 °C)
/// and 24.5 °F (−4.2 °C). The ground is colder still: see <c>AccountDay.GroundMin</c>.
/// </remarks>
public static class Frost
{
    private const double PossibleUpTo = 4 / 1.8; // 36 °F
    private const double LightUpTo = 0; // 32 °F
    private const double ModerateUpTo = -1.9; // 28.5 °F
    private const double SevereUpTo = -4.2; // 24.5 °F
    private const double HardFreezeUpTo = -2.2; // 28 °F, the mark of a hard freeze warning in the United States

    /// <summary>Class of a night.</summary>
    /// <param name="tmin">Lowest air temperature at screen height. [°C]</param>
    public static FrostClass Of(double tmin) => tmin switch
    {
        <= SevereUpTo => FrostClass.Severe,
        <= ModerateUpTo => FrostClass.Moderate,
        <= LightUpTo => FrostClass.Light,
        <= PossibleUpTo => FrostClass.Possible,
        _ => FrostClass.None,
    };

    /// <summary>Whether a night is cold enough for a hard freeze warning: 28 °F (−2.2 °C) or below.</summary>
    /// <param name="tmin">Lowest air temperature at screen height. [°C]</param>
    public static bool IsHardFreeze(double tmin) => tmin <= HardFreezeUpTo;
}
