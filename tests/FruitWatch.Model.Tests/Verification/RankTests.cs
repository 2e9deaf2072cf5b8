using CsCheck;
using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>Scores by order: ROC area, rank histogram, ranked probability, quantiles.</summary>
public class RankTests
{
    /// <summary>As it is defined: over every pair of an event and a non-event (Mason and Graham 2002).</summary>
    [Fact]
    public void The_ROC_area_is_the_share_of_pairs_in_which_the_event_had_the_higher_chance() => AnyForecasts.Some.Sample(forecasts =>
    {
        var cases = forecasts.Chances.Zip(forecasts.Outcomes).ToList();
        var pairs = cases.Where(c => c.Second)
            .SelectMany(_ => cases.Where(c => !c.Second), (came, other) => came.First > other.First ? 1 : came.First < other.First ? 0 : 0.5)
            .ToList();

        var area = RocArea.Of(forecasts.Chances, forecasts.Outcomes);

        if (pairs.Count == 0)
            Assert.Null(area);
        else
            Assert.Equal(pairs.Average(), Assert.NotNull(area), 1e-12);
    });

    [Fact]
    public void The_ROC_area_of_the_opposite_forecasts_and_of_the_opposite_event_is_what_is_missing_to_one() => AnyForecasts.Some.Sample(forecasts =>
    {
        double[] opposite = [.. forecasts.Chances.Select(chance => -chance)];
        bool[] stayedAway = [.. forecasts.Outcomes.Select(came => !came)];
        if (RocArea.Of(forecasts.Chances, forecasts.Outcomes) is not { } area)
            return;

        Assert.Equal(1 - area, Assert.NotNull(RocArea.Of(opposite, forecasts.Outcomes)), 1e-12);
        Assert.Equal(1 - area, Assert.NotNull(RocArea.Of(forecasts.Chances, stayedAway)), 1e-12);
        Assert.Equal(area, Assert.NotNull(RocArea.Of(opposite, stayedAway)), 1e-12);
    });

    [Fact]
    public void Without_ties_what_came_has_the_place_that_is_left_among_the_members()
    {
        var histogram = new RankHistogram(3, seed: 7);

        Assert.Equal(1, histogram.Add([5, 9, 3], 2));
        Assert.Equal(2, histogram.Add([5, 9, 3], 4));
        Assert.Equal(4, histogram.Add([5, 9, 3], 10));
        Assert.Equal(4, histogram.Add([5, 9, 3], 11));
        Assert.Equal([1, 1, 0, 2], histogram.Counts);
    }

    [Fact]
    public void Ties_take_every_place_that_is_open_to_them_about_equally_and_the_same_for_the_same_seed()
    {
        int[] Places(ulong seed)
        {
            var histogram = new RankHistogram(4, seed);
            for (var i = 0; i < 3000; i++)
                histogram.Add([0, 0, 1, -1], 0);
            return [.. histogram.Counts];
        }

        var places = Places(seed: 11);

        Assert.Equal(0, places[0]);
        Assert.Equal(0, places[4]);
        Assert.All(places[1..4], count => Assert.InRange(count, 1000 - 130, 1000 + 130)); // 5 standard deviations of a fair third
        Assert.Equal(places, Places(seed: 11));
        Assert.NotEqual(places, Places(seed: 12));
    }

    [Fact]
    public void An_ensemble_of_another_size_is_refused() => Assert.Throws<ArgumentException>(() => new RankHistogram(3, seed: 1).Add([1, 2], 1));

    /// <summary>Of two categories it is the Brier score (Epstein 1969).</summary>
    [Fact]
    public void The_ranked_probability_score_of_yes_and_no_is_the_Brier_score() => Gen.Select(AnyForecasts.Chance, Gen.Bool).Sample((chance, came) =>
        Assert.Equal(Brier.Of(chance, came), Rps.Of([1 - chance, chance], came ? 1 : 0), 1e-12));

    [Fact]
    public void Chances_for_categories_next_to_what_came_score_better_than_those_further_off() =>
        Assert.True(Rps.Of([0, 0.5, 0.5, 0], 1) < Rps.Of([0, 0.5, 0, 0.5], 1));

    [Fact]
    public void Chances_that_do_not_add_up_to_one_are_refused()
    {
        Assert.Contains("0.9", Assert.Throws<ArgumentException>(() => Rps.Of([0.4, 0.5], 0)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Rps.Of([0.5, 0.5], 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Rps.Of([1.5, -0.5], 0));
    }

    /// <summary>Gneiting and Raftery 2007: the interval's score is 2/α times those of its two ends.</summary>
    [Fact]
    public void An_interval_scores_as_its_two_quantiles() =>
        Gen.Select(Gen.Double[-5, 5], Gen.Double[0, 5], Gen.Double[0.02, 0.98], Gen.Double[-12, 12]).Sample((low, width, alpha, y) => Assert.Equal(
            2 / alpha * (IntervalScore.OfQuantile(alpha / 2, low, y) + IntervalScore.OfQuantile(1 - alpha / 2, low + width, y)),
            IntervalScore.Of(low, low + width, alpha, y),
            1e-9));

    [Fact]
    public void An_interval_that_cannot_be_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => IntervalScore.Of(2, 1, 0.2, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => IntervalScore.Of(1, 2, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => IntervalScore.OfQuantile(1, 2, 0));
    }
}
