using System.Diagnostics;
using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Measures outlooks on all cores: many beds, each left alone, watered today, and with its cover changed today.</summary>
internal static class OutlookBench
{
    private const int Beds = 10_000;
    private const int Members = 64;
    private const int Days = 136;
    private const int Rounds = 3;
    private const double WaterMm = 8;

    private static readonly LocalDate s_today = new(2026, 4, 20);
    private static readonly int[] s_sizes = [100, 1_000, 10_000, 100_000];

    public static void Run(TextWriter output)
    {
        var weather = BenchBeds.Weather(s_today, Days, Members);
        var three = new OutlookQuestion(WaterMm, Cover.Sheet);
        var beds = MakeStanding(s_sizes[^1]);
        Round(beds.AsSpan(0, 1_000).ToArray(), weather, three);

        var ten = beds.AsSpan(0, Beds).ToArray();
        var best = Enumerable.Range(0, Rounds).Min(_ => Round(ten, weather, three));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"beds {Beds}, members {Members}, days {Days}, actions 3, cores {Environment.ProcessorCount}, best of {Rounds} rounds"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seconds {best.TotalSeconds:F3}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"bed-days/s {3.0 * Beds * Members * Days / best.TotalSeconds:F0}"));

        var alone = new OutlookQuestion();
        var times = s_sizes.Select(size => (Size: size, Took: Round(beds.AsSpan(0, size).ToArray(), weather, alone))).ToArray();
        foreach (var (size, took) in times)
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"left alone, beds {size}: seconds {took.TotalSeconds:F4}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"cost grows as beds to the power {Exponent(times):F3}"));
    }

    private static TimeSpan Round(Standing[] beds, SiteForcing weather, OutlookQuestion question)
    {
        var start = Stopwatch.GetTimestamp();
        Parallel.ForEach(
            beds,
            () => new OutlookRun(weather),
            (bed, _, run) =>
            {
                run.Of(bed.Bed, [], bed.Yesterday, [], BedCatalogue.BuiltIn, question);
                return run;
            },
            _ => { });
        return Stopwatch.GetElapsedTime(start);
    }

    /// <summary>Beds as they stand on the morning of the outlook, after forty days of their account.</summary>
    private static Standing[] MakeStanding(int count)
    {
        const int age = 40;
        var inoculated = s_today.PlusDays(-age);
        var past = BenchBeds.Weather(inoculated, age, futures: 1);
        return
        [
            .. BenchBeds.Make(count, inoculated).AsParallel().AsOrdered().Select(bed => new Standing(
                bed.Bed,
                BedAccount.Run(bed.Bed, [new MyceliumSeen(inoculated.PlusDays(bed.Number % age), 1)], past, BedCatalogue.BuiltIn, s_today.PlusDays(-1)).End)),
        ];
    }

    /// <summary>Slope of a straight line through the logarithms, by least squares.</summary>
    private static double Exponent((int Size, TimeSpan Took)[] times)
    {
        var points = times.Select(t => (X: Math.Log(t.Size), Y: Math.Log(t.Took.TotalSeconds))).ToArray();
        var (x, y) = (points.Average(p => p.X), points.Average(p => p.Y));
        return points.Sum(p => (p.X - x) * (p.Y - y)) / points.Sum(p => (p.X - x) * (p.X - x));
    }

    private sealed record Standing(Bed Bed, BedState Yesterday);
}
