using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Futures;

/// <summary>How often it rains at a site, and how much on its wet days, by the season.</summary>
internal sealed class SeasonRain
{
    private const int FewestDays = 28; // a month's days

    private readonly double?[] wetShare = new double?[13];
    private readonly double[][] amounts = new double[13][];

    public SeasonRain(IEnumerable<WeatherDay> observed)
    {
        var months = observed.Where(d => d.Rain is not null).OrderBy(d => d.Date).ToLookup(d => d.Date.Month, d => d.Rain!.Value);
        for (var month = 1; month <= 12; month++)
        {
            var days = months[month].ToList();
            wetShare[month] = days.Count >= FewestDays ? (double)days.Count(IsWet) / days.Count : null;
            var before = month == 1 ? 12 : month - 1;
            var after = month == 12 ? 1 : month + 1;
            amounts[month] = [.. months[before].Concat(days).Concat(months[after]).Where(IsWet)];
        }
    }

    public double? WetShare(int month) => wetShare[month];

    public IReadOnlyList<double> Amounts(int month) => amounts[month];

    private static bool IsWet(double rain) => rain >= ForecastError.WetFrom;
}
