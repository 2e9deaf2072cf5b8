using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Futures;

/// <summary>
/// How far the weather of a single forecast may be from what comes, by lead: 0 is the day of issue. The error grows from
/// that of today's forecast to the spread of the weather about its usual day.
/// </summary>
/// <param name="Defaults">Errors of an unknown site.</param>
/// <param name="AnomalySdTmax">Spread of the site's highest temperature about its usual day in that month, where known. [°C]</param>
/// <param name="AnomalySdTmin">Spread of the site's lowest temperature about its usual day in that month, where known. [°C]</param>
/// <remarks>
/// Anchors: one year of US National Weather Service bulletins, 167 cities (days 1–2: RMSE 1.62 and 1.87 °C for the maximum,
/// correlation of the errors of days 1 and 2 0.28, of maximum and minimum 0.15, rain in 0.54 of the days forecast wet and in
/// 0.066 of those forecast dry); Stern 2008, Meteorol. Appl. 15:65; Stern &amp; Davidson 2015, QJRMS 141:2726 (days 3–7).
/// </remarks>
public sealed record ForecastError(ForecastErrorDefaults Defaults, double? AnomalySdTmax = null, double? AnomalySdTmin = null)
{
    /// <summary>A day is wet from this much rain on. [mm]</summary>
    public const double WetFrom = 1;

    /// <summary>Share of wet days where the site's own is not known: of 167 US cities in one year of bulletins.</summary>
    public const double UsualWetShare = 0.23;

    private const double WetAfterWetForecast = 0.54; // at day 1
    private const double WetAfterDryForecast = 0.066; // at day 1
    private const double ShortLead = 1;
    private const double LongLead = 10;

    /// <summary>Error of the highest temperature. [°C, standard deviation]</summary>
    /// <param name="lead">[d], from 0</param>
    public double SdTmax(double lead) => Sd(Defaults.S0Tmax, AnomalySdTmax ?? Defaults.ScTmax, lead);

    /// <summary>Error of the lowest temperature. [°C, standard deviation]</summary>
    /// <param name="lead">[d], from 0</param>
    public double SdTmin(double lead) => Sd(Defaults.S0Tmin, AnomalySdTmin ?? Defaults.ScTmin, lead);

    /// <summary>Share r of a forecast's departure from the usual day that is kept: e^(−(L/7.5)²/2). 0…1</summary>
    /// <param name="lead">[d], from 0</param>
    public double Pull(double lead) => Math.Sqrt(Skill(lead));

    /// <summary>What is left of the forecast's skill: e^(−(L/7.5)²). 0…1</summary>
    /// <param name="lead">[d], from 0</param>
    public double Skill(double lead) => Math.Exp(-Square(lead / Defaults.LeadScaleDays));

    /// <summary>
    /// Correlation of a day's error with that of the day before, in one forecast: 0.3 up to day 1, then in a straight line to
    /// 0.7 at day 10, which is where the weather's own departures from the usual day lie.
    /// </summary>
    /// <param name="lead">Of the later day. [d], from 0</param>
    public static double FromDayToDay(double lead) => Rising(0.3, 0.7, lead);

    /// <summary>Correlation of the errors of the highest and lowest temperature of a day: 0.15 up to day 1, 0.5 from day 10.</summary>
    /// <param name="lead">[d], from 0</param>
    public static double MaxWithMin(double lead) => Rising(0.15, 0.5, lead);

    /// <summary>
    /// Chance of a wet day. From what was found for day 1 it fades to the site's share of wet days; today has day 1's.
    /// </summary>
    /// <param name="forecastWet">Whether the forecast has at least <see cref="WetFrom"/>; null where it does not say.</param>
    /// <param name="lead">[d], from 0</param>
    /// <param name="baseRate">The site's share of wet days in that month. 0…1</param>
    public double WetChance(bool? forecastWet, double lead, double baseRate)
    {
        if (forecastWet is not { } wet)
            return baseRate;
        var kept = Skill(Math.Max(ShortLead, lead)) / Skill(ShortLead);
        return baseRate + ((wet ? WetAfterWetForecast : WetAfterDryForecast) - baseRate) * kept;
    }

    private double Sd(double today, double usual, double lead)
    {
        var most = Math.Max(usual, today);
        return Math.Sqrt(Square(today) + (Square(most) - Square(today)) * (1 - Skill(lead)));
    }

    private static double Rising(double from, double to, double lead) =>
        from + (to - from) * Math.Clamp((lead - ShortLead) / (LongLead - ShortLead), 0, 1);

    private static double Square(double x) => x * x;
}
