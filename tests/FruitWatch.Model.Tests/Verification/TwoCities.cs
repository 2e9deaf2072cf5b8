using System.Globalization;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Verification;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>
/// Persistence (as it was so many days before) and climatology (other years' mean, 15 days to either side) as forecasts of the
/// daily extremes of Seattle and New York, 2012–2015.
/// </summary>
internal static class TwoCities
{
    private const int Window = 15;

    public static double ScoreOf(Dictionary<string, string> row)
    {
        var days = Cities.Of(row["source"].EndsWith("Seattle", StringComparison.Ordinal) ? "Seattle" : "New York").Days;
        Func<WeatherDay, double> extreme = row["variable"] == "tmax" ? day => day.Tmax!.Value : day => day.Tmin!.Value;
        double[] values = [.. days.Select(extreme)];
        if (row["lead_day"] == "climatology")
        {
            var usual = LeaveOneYearOut(days, extreme);
            int[] scored = [.. Enumerable.Range(0, days.Count).Where(i => IsIn(row["error_metric"], days[i].Date.Month))];
            return ContinuousScores.Of([.. scored.Select(i => usual[i])], [.. scored.Select(i => values[i])]).RootMeanSquareError;
        }

        var lead = int.Parse(row["lead_day"], CultureInfo.InvariantCulture);
        if (row["error_metric"] == "RMSE_persistence")
            return ContinuousScores.Of(values.AsSpan(..^lead), values.AsSpan(lead..)).RootMeanSquareError;

        double[] anomalies = [.. values.Zip(LeaveOneYearOut(days, extreme), (value, usual) => value - usual)];
        return ContinuousScores.Of(anomalies.AsSpan(..^lead), anomalies.AsSpan(lead..)).Correlation!.Value;
    }

    private static bool IsIn(string metric, int month) => metric switch
    {
        "RMSE_DJF" => month is 12 or 1 or 2,
        "RMSE_MAM" => month is 3 or 4 or 5,
        "RMSE_JJA" => month is 6 or 7 or 8,
        "RMSE_SON" => month is 9 or 10 or 11,
        _ => true,
    };

    private static double[] LeaveOneYearOut(IReadOnlyList<WeatherDay> days, Func<WeatherDay, double> extreme) =>
    [
        .. days.Select(day => days.Where(other => other.Date.Year != day.Date.Year && Apart(day, other) <= Window).Average(extreme)),
    ];

    private static int Apart(WeatherDay one, WeatherDay other)
    {
        var apart = Math.Abs(one.Date.DayOfYear - other.Date.DayOfYear);
        return Math.Min(apart, Math.Abs(365 - apart));
    }
}
