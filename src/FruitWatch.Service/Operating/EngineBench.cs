using System.Diagnostics;
using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Measures the bed model on one core: many beds of every species through many futures.</summary>
internal static class EngineBench
{
    private const int Beds = 1000;
    private const int Futures = 64;
    private const int Days = 136;
    private const int Rounds = 5;

    public static void Run(TextWriter output)
    {
        var forcing = Weather();
        var steps = Steps(forcing.First);
        var state = new BedState(Futures);
        var result = new DayResult(Futures);
        Round(steps, forcing, state, result);

        var best = TimeSpan.MaxValue;
        var allocated = GC.GetAllocatedBytesForCurrentThread();
        for (var round = 0; round < Rounds; round++)
        {
            var start = Stopwatch.GetTimestamp();
            Round(steps, forcing, state, result);
            var took = Stopwatch.GetElapsedTime(start);
            best = took < best ? took : best;
        }

        allocated = GC.GetAllocatedBytesForCurrentThread() - allocated;
        const double bedDays = (double)Beds * Futures * Days;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"beds {Beds}, futures {Futures}, days {Days}, best of {Rounds} rounds"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seconds {best.TotalSeconds:F3}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"bytes allocated per bed-day {allocated / (bedDays * Rounds):F6}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"bed-days/s/core {bedDays / best.TotalSeconds:F0}"));
    }

    private static void Round(BedStep[] steps, SiteForcing forcing, BedState state, DayResult result)
    {
        foreach (var step in steps)
        {
            step.Start(state, forcing);
            for (var day = 0; day < Days; day++)
                step.Advance(state, forcing, day, result);
        }
    }

    private static BedStep[] Steps(LocalDate first)
    {
        var catalogue = BedCatalogue.BuiltIn;
        var species = catalogue.Species.Values.ToArray();
        return
        [
            .. Enumerable.Range(0, Beds).Select(i =>
            {
                var kind = species[i % species.Length];
                var bed = new Bed(kind, first, [new Layer(catalogue.Materials[kind.Materials[0]], 0.12 + i % 7 * 0.02, first)])
                {
                    Shade = i % 10 / 10.0,
                    MulchCm = i % 4,
                    Mulch = catalogue.Materials["cereal-straw"],
                };
                return new BedStep(new BedPlan(bed, [new MyceliumSeen(first.PlusDays(i % 40), 1)], catalogue, Days), latitude: 47);
            }),
        ];
    }

    /// <summary>An invented temperate spring and summer; each future has its own showers and waves of warmth.</summary>
    private static SiteForcing Weather()
    {
        var first = new LocalDate(2026, 4, 20);
        var forcing = new SiteForcing(first, Days, Futures, latitude: 47);
        var ladder = new EvaporationLadder(47);
        for (var day = 0; day < Days; day++)
        {
            for (var future = 0; future < Futures; future++)
            {
                var wave = 4 * Math.Sin(day / 3.1 + future) + 2 * Math.Sin(day / 1.3 + 2.7 * future);
                var mean = 14 + 7 * Math.Sin(Math.PI * day / Days) + wave;
                var rain = Math.Max(0, 9 * Math.Sin(day * 2.3 + 5.1 * future) - 4);
                forcing.Set(day, future, new WeatherDay(first.PlusDays(day), mean + 5 - rain / 4, mean - 5 + rain / 4, rain), ladder);
            }
        }

        return forcing;
    }
}
