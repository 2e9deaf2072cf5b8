using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Demo.Weather;

/// <summary>
/// Invented daily weather of a temperate region: the year's round, waves of warm and cold (a first-order autoregression), wet and dry
/// spells (a two-state Markov chain, after Gabriel and Neumann 1962), amounts of rain from two exponentials (Woolhiser and Roldán
/// 1982). Every summer has its dry hot spell and every autumn its first clear, cold nights, so that growers have something to do.
/// </summary>
internal static class InventedRegion
{
    private const int Region = 0;
    private const int WarmestDay = 206;
    private const int WettestDay = 354;

    /// <summary>How much more likely a wet day is after a wet day than after a dry one.</summary>
    private const double WetPersistence = 0.38;

    /// <summary>No cloudburst drowns the demo. [mm]</summary>
    private const double MostRain = 80;

    private const double YearMean = 10.8;
    private const double SeasonSwing = 8.4;
    private const double WavePersistence = 0.72;
    private const double WaveSpread = 2.6;

    /// <summary>Days of each place; the same seed gives the same days.</summary>
    public static IReadOnlyDictionary<DemoPlace, IReadOnlyList<WeatherDay>> Days(long seed, LocalDate first, LocalDate last)
    {
        var count = Period.DaysBetween(first, last) + 1;
        var places = DemoPlace.All.ToDictionary(place => place, _ => new WeatherDay[count]);
        var spells = new Dictionary<int, Spells>();
        double wave = 0;
        var wet = false;
        for (var i = 0; i < count; i++)
        {
            var date = first.PlusDays(i);
            if (!spells.TryGetValue(date.Year, out var year))
                spells[date.Year] = year = Spells.Of(seed, date.Year);
            var chance = Chance.Of(seed, Region, DayNumber(date));
            wave = WavePersistence * wave + Math.Sqrt(1 - WavePersistence * WavePersistence) * WaveSpread * chance.Normal();
            var usuallyWet = 0.34 + 0.16 * Season.Wave(date, WettestDay);
            wet = chance.Happens(wet ? usuallyWet + WetPersistence * (1 - usuallyWet) : usuallyWet * (1 - WetPersistence))
                && !year.IsClear(date);
            var amount = Amount(ref chance);
            var day = new RegionDay(date, year.Warmth(date, wave), wet, amount, year);
            foreach (var (place, days) in places)
                days[i] = At(place, day, Chance.Of(seed, place.Number, DayNumber(date)));
        }

        return places.ToDictionary(p => p.Key, IReadOnlyList<WeatherDay> (p) => p.Value);
    }

    /// <summary>Counts the days, to name a day's stream of chance.</summary>
    internal static long DayNumber(LocalDate date) => Period.DaysBetween(new LocalDate(2000, 1, 1), date);

    private static double Amount(ref Chance chance) => (chance.Happens(0.65) ? 2.4 : 9.5) * chance.Exponential();

    private static WeatherDay At(DemoPlace place, RegionDay day, Chance chance)
    {
        var summer = Season.Wave(day.Date, WarmestDay);
        var wet = PlaceIsWet(day, ref chance);
        var rain = wet ? Math.Clamp(day.Amount * place.RainShare * (1 + 0.25 * chance.Normal()), 0.2, MostRain) : 0;

        // Cloud cools summer days and keeps winter ones mild, and takes half of the difference between day and night.
        var cloud = wet ? -0.4 - 1.6 * summer : 0;
        var mean = YearMean + place.Warmer + SeasonSwing * place.SeasonShare * summer + day.Warmth + cloud + 0.5 * chance.Normal();
        var range = place.RangeShare * ((wet ? 6 : 11) + (wet ? 1 : 2.5) * summer + (day.Year.IsClear(day.Date) ? 2 : 0) + 1.4 * chance.Normal());
        range = Math.Max(1.5, range);
        var humidity = 90 - 2.6 * (range / place.RangeShare - 6) + (wet ? 3 : 0) + place.Damper - (day.Year.IsHot(day.Date) ? 8 : 0) + 3.5 * chance.Normal();
        return new WeatherDay(day.Date, Tenths(mean + range / 2), Tenths(mean - range / 2), Tenths(rain))
        {
            Humidity = Math.Clamp(Tenths(humidity), 30, 99),
        };
    }

    private static bool PlaceIsWet(RegionDay day, ref Chance chance)
    {
        var differs = chance.Uniform();
        return !day.Year.IsClear(day.Date) && (day.Wet ? differs >= 0.1 : differs < 0.05);
    }

    /// <summary>As thermometers and gauges are read.</summary>
    internal static double Tenths(double value) => Math.Round(value, 1, MidpointRounding.AwayFromZero);

    private sealed record RegionDay(LocalDate Date, double Warmth, bool Wet, double Amount, Spells Year);

    /// <summary>A year's spells that are sure to come.</summary>
    private sealed record Spells(DateInterval Heat, DateInterval Cold)
    {
        public static Spells Of(long seed, int year)
        {
            var chance = Chance.Of(seed, Region, -year);
            var heat = new LocalDate(year, 7, 5).PlusDays(chance.Between(0, 35));
            var cold = new LocalDate(year, 10, 12).PlusDays(chance.Between(0, 16));
            return new Spells(
                new DateInterval(heat, heat.PlusDays(chance.Between(11, 20))), new DateInterval(cold, cold.PlusDays(chance.Between(3, 5))));
        }

        public bool IsHot(LocalDate date) => Heat.Contains(date);

        public bool IsClear(LocalDate date) => Heat.Contains(date) || Cold.Contains(date);

        /// <summary>How much warmer than usual it is. [°C]</summary>
        public double Warmth(LocalDate date, double wave) =>
            Heat.Contains(date) ? wave + 5 : Cold.Contains(date) ? Math.Clamp(wave, -1.5, 1.5) - 6.5 : wave;
    }
}
