using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Verification;

/// <summary>
/// What growers go by without a model, and the forecast to beat: pins are near when a soaking rain fell in the last week and the
/// week was mild.
/// </summary>
/// <remarks>Common practice, no source: an inch of rain a week, and 55–75 °F (13–24 °C) for the usual species of outdoor beds.</remarks>
public static class RuleOfThumb
{
    /// <summary>Rain of the week from which it counts as soaking. [mm]</summary>
    public const double SoakingRain = 25;

    /// <summary>Coldest mean of a mild week. [°C]</summary>
    public const double MildFrom = 13;

    /// <summary>Warmest mean of a mild week. [°C]</summary>
    public const double MildTo = 24;

    private const int Days = 7;
    private const double Rounding = 1e-9; // tenths of a millimetre add up to 25 or a last bit less

    /// <summary>Whether the rule expects pins.</summary>
    /// <param name="lastSevenDays">The seven days before the forecast, in order, none left out.</param>
    /// <returns>
    /// Null where what is known does not decide: a week without its rain is neither dry nor wet. Gaps that were filled with
    /// usual weather are not known; a forecast that nothing better replaced is, since the model had no more than that.
    /// </returns>
    /// <exception cref="ArgumentException">Not seven days in a row.</exception>
    public static bool? ExpectsPins(IReadOnlyList<WeatherDay> lastSevenDays)
    {
        ArgumentNullException.ThrowIfNull(lastSevenDays);
        if (lastSevenDays.Count != Days)
            throw new ArgumentException($"The rule looks at {Days} days and was given {lastSevenDays.Count}.", nameof(lastSevenDays));
        for (var i = 1; i < Days; i++)
        {
            if (lastSevenDays[i].Date != lastSevenDays[0].Date.PlusDays(i))
                throw new ArgumentException($"{lastSevenDays[i].Date:uuuu-MM-dd} does not follow {lastSevenDays[i - 1].Date:uuuu-MM-dd}.", nameof(lastSevenDays));
        }

        // & over bool? is false as soon as one side is, known or not.
        return Soaked(lastSevenDays) & Mild(lastSevenDays);
    }

    private static bool? Soaked(IReadOnlyList<WeatherDay> days)
    {
        double known = 0;
        var whole = true;
        foreach (var day in days)
        {
            if (Known(day.Rain, day.RainFrom) is { } rain)
                known += rain;
            else
                whole = false;
        }

        return known >= SoakingRain - Rounding ? true : whole ? false : null;
    }

    private static bool? Mild(IReadOnlyList<WeatherDay> days)
    {
        double sum = 0;
        foreach (var day in days)
        {
            if (Known(day.Tmax, day.TmaxFrom) is not { } tmax || Known(day.Tmin, day.TminFrom) is not { } tmin)
                return null;
            sum += (tmax + tmin) / 2; // FAO-56 eq. 9
        }

        return sum / Days is >= MildFrom - Rounding and <= MildTo + Rounding;
    }

    private static double? Known(double? value, Provenance from) => from is Provenance.Unknown or Provenance.GapFilled ? null : value;
}
