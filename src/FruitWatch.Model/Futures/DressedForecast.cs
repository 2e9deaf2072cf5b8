using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>
/// Many members from one forecast: its departure from the usual day is pulled in with lead, and errors such as forecasts have
/// are put on, day hanging together with day and maximum with minimum.
/// </summary>
/// <remarks>
/// Errors have Student-t tails: a normal z becomes z·√((ν−2)/χ²ν), with unit variance and an independent χ² for every value.
/// Those χ² loosen every correlation by the factor a = E[√((ν−2)/χ²ν)]² = (ν−2)/2·(Γ((ν−1)/2)/Γ(ν/2))², 75π/256 ≈ 0.9204 for
/// ν = 8; the normals are therefore drawn with the wanted correlations divided by a.
/// </remarks>
internal sealed class DressedForecast
{
    private const double KeptDraw = 0.3;
    private const double MeanWetDay = 10; // mm: between Seattle's 8.6 and New York's 11.4 (daily NOAA data 2012–2015)
    private const int FewestAmounts = 5; // common practice, no source
    private const double MostCorrelation = 0.95; // only reached with ν = 3, whose tails no stronger correlation survives

    private readonly ForecastSeries forecast;
    private readonly SiteHistory history;
    private readonly ForecastErrorDefaults defaults;
    private readonly ForecastError[] errors; // by month
    private readonly double loosening;
    private readonly int age;

    /// <param name="forecast">The forecast, from today on.</param>
    /// <param name="history">The site's past.</param>
    /// <param name="defaults">Errors of a single forecast.</param>
    /// <param name="age">Days since it was issued: so much further ahead did it look. [d]</param>
    public DressedForecast(ForecastSeries forecast, SiteHistory history, ForecastErrorDefaults defaults, int age)
    {
        this.age = age;
        this.forecast = forecast;
        this.history = history;
        this.defaults = defaults;
        errors =
        [
            .. Enumerable.Range(1, 12).Select(m =>
                new ForecastError(defaults, history.AnomalySdTmax(m), history.AnomalySdTmin(m))),
        ];
        loosening = Loosening(defaults.TDf);
    }

    /// <summary>One member.</summary>
    /// <param name="temperature">Draws for the temperatures.</param>
    /// <param name="rain">Draws for the rain.</param>
    public IReadOnlyList<WeatherDay> Member(Draws temperature, Draws rain)
    {
        var days = new WeatherDay[forecast.Days.Count];
        double zMax = 0, zMin = 0, chance = 0;
        for (var ahead = 0; ahead < days.Length; ahead++)
        {
            var lead = ahead + age;
            (zMax, zMin) = Next(zMax, zMin, lead, isFirst: ahead == 0, temperature);
            chance = ahead == 0 || rain.Uniform() >= KeptDraw ? rain.Uniform() : chance;
            var (day, fromCalendar) = forecast.Days[ahead];
            var error = errors[day.Date.Month - 1];
            // A day put in from the calendar is as uncertain as the calendar is, however near.
            var reach = fromCalendar ? double.PositiveInfinity : lead;
            var tmax = Centre(day.Tmax!.Value, history.UsualTmax(day.Date), error, reach) + error.SdTmax(reach) * WithTails(zMax, temperature);
            var tmin = Centre(day.Tmin!.Value, history.UsualTmin(day.Date), error, reach) + error.SdTmin(reach) * WithTails(zMin, temperature);
            var fallen = Rain(day.Rain, day.Date, lead, error, chance, rain);
            // What the grower's gauge holds is no forecast.
            days[ahead] = (day with
            {
                Tmax = Math.Max(tmax, tmin),
                Tmin = Math.Min(tmax, tmin),
                Rain = day.RainFrom == Provenance.Gauge ? day.Rain : fallen,
            }).From(Provenance.Forecast);
        }

        return days;
    }

    /// <summary>By how much independent χ² loosen the correlation of two normals. 0…1</summary>
    internal static double Loosening(int degrees)
    {
        // Γ((ν−1)/2)/Γ(ν/2), from ν = 2 (√π) or ν = 3 (2/√π) up by two.
        var ratio = degrees % 2 == 0 ? Math.Sqrt(Math.PI) : 2 / Math.Sqrt(Math.PI);
        for (var df = degrees % 2 == 0 ? 2 : 3; df < degrees; df += 2)
            ratio *= (df - 1.0) / df;
        return (degrees - 2) / 2.0 * ratio * ratio;
    }

    /// <summary>The normals behind a day's errors, from those of the day before.</summary>
    private (double Max, double Min) Next(double zMax, double zMin, int lead, bool isFirst, Draws draws)
    {
        var phi = isFirst ? 0 : Tightened(ForecastError.FromDayToDay(lead));
        var fresh = Math.Sqrt(1 - phi * phi);
        // What is carried over brings φ²·ρ of the day before; the fresh part must bring the rest of today's ρ.
        var carried = isFirst ? 0 : phi * phi * Tightened(ForecastError.MaxWithMin(lead - 1));
        var together = Math.Clamp((Tightened(ForecastError.MaxWithMin(lead)) - carried) / (1 - phi * phi), -1, 1);
        var one = draws.Normal();
        var other = together * one + Math.Sqrt(1 - together * together) * draws.Normal();
        return (phi * zMax + fresh * one, phi * zMin + fresh * other);
    }

    private double Tightened(double correlation) => Math.Min(MostCorrelation, correlation / loosening);

    private double WithTails(double z, Draws draws) => z * Math.Sqrt((defaults.TDf - 2) / draws.ChiSquare(defaults.TDf));

    /// <summary>With no usual day to pull to, the forecast itself.</summary>
    private static double Centre(double value, double? usual, ForecastError error, double lead) =>
        usual is { } known ? known + error.Pull(lead) * (value - known) : value;

    private double Rain(double? given, LocalDate date, int lead, ForecastError error, double chance, Draws draws)
    {
        bool? wetForecast = given is { } known ? known >= ForecastError.WetFrom : null;
        var baseRate = history.WetShare(date.Month) ?? ForecastError.UsualWetShare;
        if (chance >= error.WetChance(wetForecast, lead, baseRate))
            return wetForecast == false ? given!.Value : 0;
        return wetForecast == true && draws.Uniform() < error.Skill(lead) ? given!.Value : SeasonAmount(date.Month, draws);
    }

    private double SeasonAmount(int month, Draws draws)
    {
        var amounts = history.WetDayAmounts(month);
        return amounts.Count >= FewestAmounts
            ? amounts[draws.Below(amounts.Count)]
            : ForecastError.WetFrom + (MeanWetDay - ForecastError.WetFrom) * draws.Exponential();
    }
}
