using System.Diagnostics;
using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Season;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Measures the season planner: one site, every species, every week of ten past years.</summary>
internal static class PlannerBench
{
    private const int Years = 10;
    private const int Rounds = 5;
    private const int Threads = 2;

    public static void Run(TextWriter output)
    {
        var weather = Weather();
        var species = BedCatalogue.BuiltIn.Species.Values.ToArray();
        var plan = Round(weather, species);
        if (plan.Species.Any(season => season.Weeks.Any(week => week.Years != Years)))
            throw new InvalidOperationException("The invented weather does not give every week its ten years.");

        var best = TimeSpan.MaxValue;
        var allocated = GC.GetTotalAllocatedBytes(precise: true);
        for (var round = 0; round < Rounds; round++)
        {
            var start = Stopwatch.GetTimestamp();
            Round(weather, species);
            var took = Stopwatch.GetElapsedTime(start);
            best = took < best ? took : best;
        }

        allocated = GC.GetTotalAllocatedBytes(precise: true) - allocated;
        var bedDays = (double)species.Length * StartWeek.Count * Years * SeasonPlanner.RunDays;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"species {species.Length}, weeks {StartWeek.Count}, years {Years}, days {SeasonPlanner.RunDays}, threads {Threads}, best of {Rounds} rounds"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seconds {best.TotalSeconds:F3}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"bed-days {bedDays:F0}"));
        // Each plan brings its weather, its scratch and its answer; none of it grows with the days of a run.
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"bytes allocated per bed-day {allocated / (bedDays * Rounds):F3}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"bed-days/s {bedDays / best.TotalSeconds:F0}"));
    }

    private static SeasonPlan Round(List<WeatherDay> weather, Species[] species) =>
        SeasonPlanner.Plan(weather, new EvaporationLadder(47), species, new BedPattern(), BedCatalogue.BuiltIn, Threads);

    /// <summary>Invented temperate years: just enough days for the last week of the tenth year, each year with its own spells.</summary>
    private static List<WeatherDay> Weather()
    {
        var first = new LocalDate(2012, 1, 1);
        var last = new LocalDate(first.Year + Years - 1, 1, 1).PlusDays((StartWeek.Count - 1) * 7 + SeasonPlanner.RunDays - 1);
        var days = Period.DaysBetween(first, last) + 1;
        return
        [
            .. Enumerable.Range(0, days).Select(i =>
            {
                var wave = 4 * Math.Sin(i / 3.1) + 2 * Math.Sin(i / 1.3 + 2.7) + 1.5 * Math.Sin(i / 97.0);
                var mean = 10 - 9 * Math.Cos(2 * Math.PI * (i - 20) / 365.25) + wave;
                var rain = Math.Max(0, 9 * Math.Sin(i * 2.3 + i / 50.0) - 4);
                return new WeatherDay(first.PlusDays(i), mean + 5 - rain / 4, mean - 5 + rain / 4, rain);
            }),
        ];
    }
}
