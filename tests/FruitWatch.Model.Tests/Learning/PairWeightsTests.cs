using CsCheck;
using FruitWatch.Model.Learning;

namespace FruitWatch.Model.Tests.Learning;

public class PairWeightsTests
{
    private const int Pairs = 256;

    private static readonly Gen<double[]> s_weights = Gen.Double[0, 1].Array[Pairs].Select(drawn =>
    {
        var steep = drawn.Select(x => Math.Pow(x, 8)).ToArray();
        var sum = steep.Sum();
        return steep.Select(x => x / sum).ToArray();
    });

    private static readonly int[] s_walk = [.. Enumerable.Range(0, Pairs).Select(i => i * 101 % Pairs)];

    [Fact]
    public void Pairs_are_taken_in_proportion_to_their_weights_to_less_than_one() =>
        Gen.Select(s_weights, Gen.Int[1, 500], Gen.Double[0, 0.999]).Sample((weights, members, start) =>
        {
            var lanes = PairWeights.Resampled(weights, s_walk, members, start);

            Assert.Equal(members, lanes.Length);
            Assert.Equal(lanes.Order(), lanes);
            for (var pair = 0; pair < Pairs; pair++)
                Assert.InRange(lanes.Count(lane => lane == pair), members * weights[pair] - 1.000001, members * weights[pair] + 1.000001);
        });

    [Fact]
    public void A_pair_with_all_the_weight_is_taken_by_all_members()
    {
        var weights = new double[Pairs];
        weights[77] = 1;

        Assert.All(PairWeights.Resampled(weights, s_walk, 64, 0.3), lane => Assert.Equal(77, lane));
    }

    [Fact]
    public void Without_observations_all_count_the_same()
    {
        var weights = new PairWeights(Pairs).Normalised(0, out var disagrees);

        Assert.False(disagrees);
        Assert.All(weights, weight => Assert.Equal(1.0 / Pairs, weight));
    }

    [Fact]
    public void Where_nothing_is_left_of_any_pair_all_count_the_same_and_it_is_said()
    {
        var pairs = new PairWeights(Pairs);
        pairs.Logs.Fill(double.NegativeInfinity);
        var weights = pairs.Normalised(3, out var disagrees);

        Assert.True(disagrees);
        Assert.All(weights, weight => Assert.Equal(1.0 / Pairs, weight));
    }

    [Fact]
    public void Where_the_log_disagrees_with_all_pairs_the_better_ones_still_count_more()
    {
        var pairs = new PairWeights(Pairs);
        for (var pair = 0; pair < Pairs; pair++)
            pairs.Logs[pair] = -1e6 - 1e5 * pair;
        var weights = pairs.Normalised(2, out var disagrees);

        Assert.True(disagrees);
        Assert.Equal(1, weights.Sum(), 1e-12);
        Assert.Equal(weights.OrderDescending(), weights);
        Assert.True(weights[0] > weights[1]);
    }

    [Fact]
    public void Pairs_that_hit_every_observation_do_not_disagree_and_only_their_likelihood_counts()
    {
        var pairs = new PairWeights(Pairs);
        for (var pair = 128; pair < Pairs; pair++)
            pairs.Logs[pair] = -Math.Log(3);
        var weights = pairs.Normalised(5, out var disagrees);

        Assert.False(disagrees);
        Assert.Equal(3, weights[0] / weights[^1], 1e-12);
    }

    /// <summary>√256: fewer say more about the gaps between the pairs than about the bed.</summary>
    [Theory]
    [InlineData(0.5)]
    [InlineData(50)]
    [InlineData(1e7)]
    public void However_sharp_the_observations_at_least_16_pairs_count(double sharpness)
    {
        var pairs = new PairWeights(Pairs);
        for (var pair = 0; pair < Pairs; pair++)
            pairs.Logs[pair] = -sharpness * pair;
        var weights = pairs.Normalised(4, out _);

        Assert.Equal(16, 1 / weights.Sum(weight => weight * weight), 1e-3);
        Assert.Equal(weights.OrderDescending(), weights);
    }

    [Fact]
    public void Quantiles_of_equal_weights_are_those_of_the_values()
    {
        double[] values = [.. Enumerable.Range(0, Pairs).Select(i => (i + 0.5) / Pairs).Reverse()];
        var weights = new double[Pairs];
        Array.Fill(weights, 1.0 / Pairs);
        var summary = new PairWeights(Pairs).Summary(values, weights);

        Assert.Equal(0.5, summary.Mean, 1e-12);
        Assert.Equal(0.05, summary.P5, 1e-12);
        Assert.Equal(0.50, summary.P50, 1e-12);
        Assert.Equal(0.95, summary.P95, 1e-12);
        Assert.Equal(1.0 - 0.5 / Pairs, values[0]); // the values stay in their order
    }

    [Fact]
    public void Quantiles_follow_the_weights()
    {
        double[] values = [3, 1, 2, 4];
        var summary = new PairWeights(4).Summary(values, [0.1, 0.2, 0.6, 0.1]);

        Assert.Equal(0.3 + 0.2 + 1.2 + 0.4, summary.Mean, 1e-12);
        // Middles of the weights in ascending order of value: 0.1, 0.5, 0.85, 0.95.
        Assert.Equal((1.0, 2.0), (summary.P5, summary.P50));
        Assert.Equal(4, summary.P95, 1e-9);
    }
}
