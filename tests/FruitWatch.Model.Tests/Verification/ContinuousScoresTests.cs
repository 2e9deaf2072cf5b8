using CsCheck;
using FruitWatch.Model.Verification;
using MathNet.Numerics;
using MathNet.Numerics.Statistics;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>Against Math.NET Numerics 5.0.0.</summary>
public class ContinuousScoresTests
{
    private static readonly Gen<double> s_tenths = Gen.Int[-300, 400].Select(tenths => tenths / 10.0);

    /// <summary>Temperatures to a tenth of a degree, not all the same.</summary>
    private static readonly Gen<(double[] Forecasts, double[] Observations)> s_pairs = Gen.Select(s_tenths, s_tenths).Array[3, 40]
        .Select(pairs => (pairs.Select(p => p.Item1).ToArray(), pairs.Select(p => p.Item2).ToArray()))
        .Where((forecasts, observations) => forecasts.Distinct().Count() > 1 && observations.Distinct().Count() > 1);

    [Fact]
    public void Errors_and_correlation_are_those_of_the_library() => s_pairs.Sample(pairs =>
    {
        var scores = ContinuousScores.Of(pairs.Forecasts, pairs.Observations);

        Assert.Equal(Distance.MAE(pairs.Forecasts, pairs.Observations), scores.MeanAbsoluteError, 1e-10);
        Assert.Equal(Distance.MSE(pairs.Forecasts, pairs.Observations), scores.MeanSquareError, 1e-10);
        Assert.Equal(pairs.Forecasts.Mean() - pairs.Observations.Mean(), scores.MeanError, 1e-10);
        Assert.Equal(Correlation.Pearson(pairs.Forecasts, pairs.Observations), Assert.NotNull(scores.Correlation), 1e-10);
    });

    [Fact]
    public void A_warmer_forecast_shifts_the_mean_error_and_leaves_the_correlation() => Gen.Select(s_pairs, Gen.Double[-1000, 1000]).Sample((pairs, warmer) =>
    {
        var one = ContinuousScores.Of(pairs.Forecasts, pairs.Observations);
        var other = ContinuousScores.Of([.. pairs.Forecasts.Select(f => f + warmer)], pairs.Observations);

        Assert.Equal(one.MeanError + warmer, other.MeanError, 1e-9);
        Assert.Equal(Assert.NotNull(one.Correlation), Assert.NotNull(other.Correlation), 1e-9);
    });

    [Fact]
    public void What_never_varies_correlates_with_nothing()
    {
        Assert.Null(ContinuousScores.Of([0.1, 0.1, 0.1], [1, 2, 3]).Correlation); // their mean is not 0.1 in binary
        Assert.Null(ContinuousScores.Of([1, 2, 3], [0, 0, 0]).Correlation);
    }

    [Fact]
    public void There_is_no_skill_over_a_reference_that_was_never_wrong() => Assert.Null(ContinuousScores.Skill([1, 2], [2, 2], [2, 2]));

    [Fact]
    public void Unknown_values_and_unpaired_ones_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>("observations", () => ContinuousScores.Of([1, 2], [1, double.NaN]));
        Assert.Throws<ArgumentException>(() => ContinuousScores.Of([1, 2], [1]));
        Assert.Throws<ArgumentException>(() => ContinuousScores.Of([], []));
        Assert.Throws<ArgumentOutOfRangeException>("share", () => ContinuousScores.SdFromWithin(1, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => ContinuousScores.SdFromWithin(0.5, -2));
    }

    [Fact]
    public void The_share_within_comes_back_from_the_standard_deviation() => Gen.Select(Gen.Double[0.01, 0.999], Gen.Double[0.1, 10]).Sample((share, halfWidth) =>
    {
        var sd = ContinuousScores.SdFromWithin(share, halfWidth);
        Assert.Equal(share, 1 - 2 * MathNet.Numerics.Distributions.Normal.CDF(0, sd, -halfWidth), 1e-12);
    });
}
