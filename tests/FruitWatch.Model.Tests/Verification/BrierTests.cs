using CsCheck;
using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

public class BrierTests
{
    [Fact]
    public void The_score_is_reliability_less_resolution_plus_uncertainty() => AnyForecasts.Some.Sample(forecasts =>
    {
        var parts = Brier.Decompose(forecasts.Chances, forecasts.Outcomes);

        Assert.Equal(Brier.Score(forecasts.Chances, forecasts.Outcomes), parts.Score, 1e-12);
        Assert.InRange(parts.Reliability, 0, 1);
        Assert.InRange(parts.Resolution, 0, parts.Uncertainty + 1e-12);
        Assert.InRange(parts.Uncertainty, 0, 0.25);
        Assert.Equal(forecasts.Chances.Length, parts.Weight);
    });

    [Fact]
    public void The_order_of_forecasts_does_not_matter() => AnyForecasts.Some.Sample(forecasts =>
    {
        double[] backwards = [.. forecasts.Chances.Reverse()];
        bool[] outcomes = [.. forecasts.Outcomes.Reverse()];

        Assert.Equal(Brier.Score(forecasts.Chances, forecasts.Outcomes), Brier.Score(backwards, outcomes), 1e-12);
        Assert.Equal(Brier.Decompose(forecasts.Chances, forecasts.Outcomes).Resolution, Brier.Decompose(backwards, outcomes).Resolution, 1e-12);
    });

    /// <summary>The score is proper: who believes in a chance does best by saying it (Gneiting and Raftery 2007).</summary>
    [Fact]
    public void No_other_chance_is_expected_to_score_better_than_the_true_one() => Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1]).Sample((truth, said) =>
    {
        double Expected(double chance) => truth * Brier.Of(chance, true) + (1 - truth) * Brier.Of(chance, false);
        Assert.True(Expected(truth) <= Expected(said) + 1e-15);
    });

    [Fact]
    public void Always_saying_the_base_rate_has_no_skill() => AnyForecasts.Some.Sample(forecasts =>
    {
        var rate = (double)forecasts.Outcomes.Count(came => came) / forecasts.Outcomes.Length;
        var parts = Brier.Decompose([.. forecasts.Outcomes.Select(_ => rate)], forecasts.Outcomes);

        Assert.True(rate is 0 or 1 ? parts.Skill is null : Math.Abs(parts.Skill!.Value) < 1e-12);
    });

    [Theory]
    [InlineData(0.1, 0.2, 0.5)]
    [InlineData(0.2, 0.2, 0)]
    [InlineData(0.4, 0.2, -1)]
    [InlineData(0, 0.2, 1)]
    public void Skill_is_the_share_of_the_references_score_that_is_gone(double score, double reference, double expected) =>
        Assert.Equal(expected, Assert.NotNull(Brier.Skill(score, reference)), 1e-12);

    [Fact]
    public void Against_a_reference_that_was_never_wrong_there_is_no_skill_to_tell()
    {
        Assert.Null(Brier.Skill(0.1, 0));
        Assert.Null(Brier.Skill(0, 0));
    }

    [Fact]
    public void Shares_decompose_as_their_forecasts_do() => AnyForecasts.Some.Sample(forecasts =>
    {
        var one = Brier.Decompose(forecasts.Chances, forecasts.Outcomes);
        var shares = forecasts.Chances.Zip(forecasts.Outcomes).GroupBy(pair => pair.First)
            .Select(c => new ForecastClass(c.Key, (double)c.Count() / forecasts.Chances.Length, c.Average(pair => pair.Second ? 1.0 : 0.0)))
            .ToList();
        var other = MurphyDecomposition.Of(shares);

        Assert.Equal(1, other.Weight, 1e-12);
        Assert.Equal(one.BaseRate, other.BaseRate, 1e-12);
        Assert.Equal(one.Reliability, other.Reliability, 1e-12);
        Assert.Equal(one.Resolution, other.Resolution, 1e-12);
    });

    [Fact]
    public void Nothing_to_score_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Brier.Score([], []));
        Assert.Throws<ArgumentException>(() => Brier.Decompose([], []));
        Assert.Throws<ArgumentException>(() => MurphyDecomposition.Of([]));
        Assert.Throws<ArgumentException>(() => MurphyDecomposition.Of([new(0.5, 0, 0.5)]));
    }

    [Fact]
    public void What_cannot_be_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Brier.Score([0.5], [true, false]));
        Assert.Throws<ArgumentOutOfRangeException>(() => Brier.Score([1.5], [true]));
        Assert.Throws<ArgumentOutOfRangeException>(() => MurphyDecomposition.Of([new(0.5, -1, 0.5), new(0.5, 3, 0.5)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => MurphyDecomposition.Of([new(0.5, 1, 2)]));
    }
}
