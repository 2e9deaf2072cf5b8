using System.Globalization;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime.Text;

namespace FruitWatch.Model.Tests.Account;

/// <summary>Four years of daily weather of two cities (NOAA; see Checks/Weather/README.md).</summary>
internal static class Cities
{
    public static readonly EvaporationLadder SeattleLadder = new(47.45);
    public static readonly EvaporationLadder NewYorkLadder = new(40.7);

    private static readonly ILookup<string, WeatherDay> s_days = CheckFile.Read("Weather/daily-2012-2015.csv").ToLookup(
        row => row["location"],
        row => new WeatherDay(
            LocalDatePattern.Iso.Parse(row["date"]).Value, Number(row["temp_max"]), Number(row["temp_min"]), Number(row["precipitation"])));

    public static IReadOnlyList<WeatherDay> Seattle => [.. s_days["Seattle"]];

    public static IReadOnlyList<WeatherDay> NewYork => [.. s_days["New York"]];

    public static (IReadOnlyList<WeatherDay> Days, EvaporationLadder Ladder) Of(string city) =>
        city == "Seattle" ? (Seattle, SeattleLadder) : (NewYork, NewYorkLadder);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
