using System.Diagnostics;
using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Measures the bed model on one core: many beds of every species through many futures.</summary>
internal static class EngineBench
{
    private const int Beds = 1000;
    private const int Futures = 64;
    private const int Days = 136;
    private const int Rounds = 5;

    private static readonly LocalDate s_first = new(2026, 4, 20);

    public static void Run(TextWriter output)
    {
        var forcing = BenchBeds.Weather(s_first, Days, Futures);
        var steps = Steps(s_first);
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

    private static BedStep[] Steps(LocalDate first) =>
        [.. BenchBeds.Make(Beds, first).Select(bed => new BedStep(
            new BedPlan(bed.Bed, [new MyceliumSeen(first.PlusDays(bed.Number % 40), 1)], BedCatalogue.BuiltIn, Days), BenchBeds.Latitude))];
}
