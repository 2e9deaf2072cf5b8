using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>
/// A forecast such as would have been issued, made from what came: no forecasts of past years are at hand, but how far forecasts
/// stray is known. It is drawn so that what came, given the forecast, is spread just as <see cref="ForecastError"/> says.
/// </summary>
/// <remarks>
/// With a the departure of what came from the usual day (sd sc) and f that of the forecast, a | f ~ N(r·f, sd²) holds for
/// Var f = sc² − s0² and f | a ~ N(r·(sc² − s0²)/sc²·a, (sc² − s0²)·(1 − r²·(sc² − s0²)/sc²)); the conditional of a bivariate
/// normal. Words of rain by Bayes from the chances of rain after them.
/// </remarks>
internal static class MadeForecast
{
    /// <summary>Days that it covers. [d]</summary>
    public const int Days = 10;

    // Common practice, no source: amounts of forecast and gauge differ by half as much again.
    private const double AmountSpread = 0.4;

    /// <summary>Makes the forecast of a morning.</summary>
    /// <param name="truth">What came, from the day of issue on, one day after another.</param>
    /// <param name="history">What the forecaster knows of the site.</param>
    /// <param name="defaults">Errors of a single forecast.</param>
    /// <param name="draws">Its own for every morning.</param>
    public static List<WeatherDay> Of(
        IEnumerable<WeatherDay> truth, SiteHistory history, ForecastErrorDefaults defaults, Draws draws)
    {
        var days = new List<WeatherDay>();
        double zMax = 0, zMin = 0;
        foreach (var came in truth.Take(Days))
        {
            var lead = days.Count;
            if (history.UsualTmax(came.Date) is not { } usualMax || history.UsualTmin(came.Date) is not { } usualMin)
                break;
            (zMax, zMin) = Next(zMax, zMin, lead, draws);
            var error = new ForecastError(defaults, history.AnomalySdTmax(came.Date.Month), history.AnomalySdTmin(came.Date.Month));
            var tmax = usualMax + Departure(came.Tmax!.Value - usualMax, defaults.S0Tmax, error.SdTmax(double.PositiveInfinity), error.Pull(lead), zMax);
            var tmin = usualMin + Departure(came.Tmin!.Value - usualMin, defaults.S0Tmin, error.SdTmin(double.PositiveInfinity), error.Pull(lead), zMin);
            var rain = Rain(came, history, error, lead, draws);
            days.Add(new WeatherDay(came.Date, Math.Max(tmax, tmin), Math.Min(tmax, tmin), rain).From(Provenance.Forecast));
        }

        return days;
    }

    private static double Departure(double came, double s0, double sc, double pull, double z)
    {
        var variance = sc * sc - s0 * s0;
        var share = variance / (sc * sc);
        return pull * share * came + Math.Sqrt(variance * (1 - pull * pull * share)) * z;
    }

    /// <summary>Normals that hang together from day to day and within the day as the errors do.</summary>
    private static (double Max, double Min) Next(double zMax, double zMin, int lead, Draws draws)
    {
        var phi = lead == 0 ? 0 : ForecastError.FromDayToDay(lead);
        var fresh = Math.Sqrt(1 - phi * phi);
        var carried = lead == 0 ? 0 : phi * phi * ForecastError.MaxWithMin(lead - 1);
        var together = (ForecastError.MaxWithMin(lead) - carried) / (1 - phi * phi);
        var one = draws.Normal();
        var other = together * one + Math.Sqrt(1 - together * together) * draws.Normal();
        return (phi * zMax + fresh * one, phi * zMin + fresh * other);
    }

    private static double Rain(WeatherDay came, SiteHistory history, ForecastError error, int lead, Draws draws)
    {
        var (word, kept, other, factor) = (draws.Uniform(), draws.Uniform(), draws.Uniform(), draws.Normal());
        var wet = came.Rain >= ForecastError.WetFrom;
        var baseRate = history.WetShare(came.Date.Month) ?? ForecastError.UsualWetShare;
        if (word >= WetWord(wet, error, lead, baseRate))
            return 0;
        var amounts = history.WetDayAmounts(came.Date.Month);
        if ((wet && kept < error.Skill(lead)) || amounts.Count == 0)
            return Math.Max(ForecastError.WetFrom, came.Rain!.Value * Math.Exp(AmountSpread * factor - AmountSpread * AmountSpread / 2));
        return amounts[(int)(other * amounts.Count)];
    }

    /// <summary>
    /// Chance that the forecast said "wet" before a day that came wet, or dry. Where the site is wetter than days after a wet word
    /// are, or drier than those after a dry one, the published chances leave but one word.
    /// </summary>
    internal static double WetWord(bool cameWet, ForecastError error, int lead, double baseRate)
    {
        var afterWet = error.WetChance(true, lead, baseRate);
        var afterDry = error.WetChance(false, lead, baseRate);
        var words = afterWet > afterDry ? (baseRate - afterDry) / (afterWet - afterDry) : 0.5;
        if (words is <= 0 or >= 1)
            return words <= 0 ? 0 : 1;
        return cameWet ? words * afterWet / baseRate : words * (1 - afterWet) / (1 - baseRate);
    }
}
