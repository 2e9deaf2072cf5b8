using CsCheck;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Learning;
using FruitWatch.Model.Tests.Account;

namespace FruitWatch.Model.Tests.Learning;

public class MultiplierPairsTests
{
    private const int Pairs = 256;

    [Fact]
    public void The_logarithms_have_the_spreads_of_the_catalogue_about_the_beds_own_multipliers() => Gen.ULong.Sample(seed =>
    {
        var bed = Made.Bed() with { EvaporationMultiplier = 1.4, GrowthMultiplier = 0.8 };
        var pairs = Drawn(seed, bed);

        AssertSpread(pairs.Evaporation, 1.4, Made.Catalogue.Learning.SigmaEvaporation);
        AssertSpread(pairs.Growth, 0.8, Made.Catalogue.Learning.SigmaGrowth);
        Assert.InRange(Correlation(pairs.Evaporation.Select(m => Math.Log(m)), pairs.Growth.Select(m => Math.Log(m))), -0.16, 0.16);
    });

    /// <summary>By chance alone each of 16 equal parts of the plane would hold 16 ± 4 and now and then 6 or 28.</summary>
    [Fact]
    public void No_part_of_the_plane_is_left_to_chance() => Gen.ULong.Sample(seed =>
        Assert.All(Cells(Drawn(seed, Made.Bed()), Enumerable.Range(0, Pairs)), count => Assert.InRange(count, 10, 23)));

    /// <summary>Chance alone would leave 4 ± 2 in each part, and a chi-square of 15; it is held to half of that.</summary>
    [Fact]
    public void The_quarter_that_64_members_go_on_from_covers_the_plane_as_evenly() => Gen.Select(Gen.ULong, Gen.Double[0, 0.999]).Sample((seed, start) =>
    {
        var weights = new double[Pairs];
        Array.Fill(weights, 1.0 / Pairs);
        var pairs = Drawn(seed, Made.Bed());

        Assert.InRange(Cells(pairs, PairWeights.Resampled(weights, pairs.Walk, 64, start)).Sum(count => (count - 4) * (count - 4) / 4.0), 0, 7.5);
    });

    [Fact]
    public void The_walk_passes_every_pair_once() => Gen.ULong.Sample(seed =>
        Assert.Equal(Enumerable.Range(0, Pairs), Drawn(seed, Made.Bed()).Walk.ToArray().Order()));

    private static MultiplierPairs Drawn(ulong seed, FruitWatch.Model.Beds.Bed bed)
    {
        var draws = new Draws(seed);
        var pairs = new MultiplierPairs(Pairs);
        pairs.Draw(bed, Made.Catalogue.Learning, draws);
        return pairs;
    }

    private static void AssertSpread(double[] multipliers, double median, double sigma)
    {
        var logs = multipliers.Select(m => Math.Log(m / median) / sigma).ToList();
        Assert.All(logs, log => Assert.True(double.IsFinite(log)));
        Assert.InRange(logs.Average(), -0.05, 0.05);
        Assert.InRange(Math.Sqrt(logs.Average(log => log * log)), 0.9, 1.1);
    }

    private static double Correlation(IEnumerable<double> one, IEnumerable<double> other) =>
        MathNet.Numerics.Statistics.Correlation.Pearson(one, other);

    /// <summary>Number of pairs in each of 4 × 4 parts of the plane that are equally likely.</summary>
    private static int[] Cells(MultiplierPairs pairs, IEnumerable<int> which)
    {
        var learning = Made.Catalogue.Learning;
        var counts = new int[16];
        foreach (var pair in which)
            counts[4 * Quarter(pairs.Evaporation[pair], learning.SigmaEvaporation) + Quarter(pairs.Growth[pair], learning.SigmaGrowth)]++;
        return counts;
    }

    private static int Quarter(double multiplier, double sigma) =>
        Math.Min(3, (int)(4 * MathNet.Numerics.Distributions.Normal.CDF(0, sigma, Math.Log(multiplier))));
}
