using CsCheck;
using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

public class CrpsTests
{
    private static readonly Gen<double> s_observed = Gen.Frequency((1, Gen.Int[-25, 25].Select(whole => (double)whole)), (1, Gen.Double[-25, 25]));

    [Fact]
    public void Of_a_single_member_it_is_the_absolute_error() =>
        Gen.Select(Gen.Double[-1e6, 1e6], Gen.Double[-1e6, 1e6]).Sample((x, y) => Assert.Equal(Math.Abs(x - y), Crps.Ensemble([x], y), 1e-9));

    /// <summary>The kernel form as it is printed, every pair by itself (Gneiting and Raftery 2007, eq. 21).</summary>
    [Fact]
    public void It_is_the_mean_distance_from_what_came_less_half_that_between_members() =>
        Gen.Select(AnyForecasts.Ensemble, s_observed).Sample((x, y) =>
        {
            var pairs = x.SelectMany(_ => x, (one, other) => Math.Abs(one - other)).Sum() / 2;
            var distance = x.Average(member => Math.Abs(member - y));

            Assert.Equal(distance - pairs / (x.Length * x.Length), Crps.Ensemble(x, y), 1e-12);
            if (x.Length > 1)
                Assert.Equal(distance - pairs / (x.Length * (x.Length - 1)), Crps.Fair(x, y), 1e-12);
        });

    /// <summary>The integral of (F − 1{x ≥ y})² over the steps of F, a second way to it (Hersbach 2000, eq. 20–27).</summary>
    [Fact]
    public void It_is_the_integral_of_the_squared_distance_between_the_distributions() =>
        Gen.Select(AnyForecasts.Ensemble, s_observed).Sample((x, y) =>
        {
            double[] edges = [.. x.Append(y).Order()];
            var integral = edges.Zip(edges.Skip(1)).Sum(step =>
            {
                var middle = (step.First + step.Second) / 2;
                var error = (double)x.Count(member => member <= middle) / x.Length - (middle >= y ? 1 : 0);
                return error * error * (step.Second - step.First);
            });

            Assert.Equal(integral, Crps.Ensemble(x, y), 1e-9);
        });

    [Fact]
    public void A_member_that_counts_twice_is_as_good_as_two() => Gen.Select(AnyForecasts.Ensemble, s_observed).Sample((x, y) =>
    {
        double[] weights = [.. x.Select((_, i) => i == 0 ? 2.0 : 1.0)];

        Assert.Equal(Crps.Ensemble([.. x, x[0]], y), Crps.Ensemble(x, weights, y), 1e-12);
        Assert.Equal(Crps.Ensemble(x, y), Crps.Ensemble(x, [.. x.Select(_ => 0.2)], y), 1e-12);
    });

    /// <summary>Ferro 2014: the spread of a sample is too small by (m − 1)/m, so the plain score is too high.</summary>
    [Fact]
    public void The_fair_score_is_never_above_the_plain_one() => Gen.Select(AnyForecasts.Ensemble.Where(x => x.Length > 1), s_observed).Sample((x, y) =>
        Assert.True(Crps.Fair(x, y) <= Crps.Ensemble(x, y)));

    /// <summary>
    /// Ferro 2014: whatever the number of members, the fair score's expectation is that of the distribution they are drawn
    /// from. Over every sample of two and of three out of four equally likely values, and every one of them as what came.
    /// </summary>
    [Fact]
    public void The_fair_score_does_not_depend_on_the_number_of_members_and_the_plain_one_falls_with_it()
    {
        double[] values = [1, 2, 4, 8];
        var pairs = values.SelectMany(_ => values, (a, b) => new[] { a, b }).ToList();
        var triples = pairs.SelectMany(_ => values, (pair, c) => new[] { pair[0], pair[1], c }).ToList();
        double Expected(List<double[]> samples, Func<double[], double, double> score) => samples.Average(x => values.Average(y => score(x, y)));
        var distribution = values.Average(y => Crps.Ensemble(values, y));

        Assert.Equal(distribution, Expected(pairs, (x, y) => Crps.Fair(x, y)), 1e-12);
        Assert.Equal(distribution, Expected(triples, (x, y) => Crps.Fair(x, y)), 1e-12);
        Assert.True(Expected(pairs, (x, y) => Crps.Ensemble(x, y)) > Expected(triples, (x, y) => Crps.Ensemble(x, y)));
        Assert.True(Expected(triples, (x, y) => Crps.Ensemble(x, y)) > distribution);
    }

    [Fact]
    public void The_normal_score_is_that_of_many_members_at_its_quantiles() => Gen.Select(Gen.Double[-5, 5], Gen.Double[0.1, 4], Gen.Double[-9, 9]).Sample((mean, sd, y) =>
    {
        double[] members = [.. Enumerable.Range(0, 2000).Select(i => MathNet.Numerics.Distributions.Normal.InvCDF(mean, sd, (i + 0.5) / 2000))];

        Assert.Equal(Crps.Ensemble(members, y), Crps.Normal(mean, sd, y), 0.001 * sd);
    }, iter: 50);

    [Fact]
    public void A_normal_without_spread_is_a_single_value() => Assert.Equal(2.5, Crps.Normal(7, 0, 4.5));

    [Fact]
    public void A_date_scores_as_the_ensemble_of_dates_with_those_past_the_horizon_on_the_day_after() =>
        Gen.Select(Gen.Int[0, 14].Array[1, 20], Gen.Int[1, 10], Gen.Int[0, 14]).Sample((dates, horizon, came) =>
        {
            int[] reached = [.. Enumerable.Range(0, horizon).Select(day => dates.Count(date => date <= day))];
            double[] censored = [.. dates.Select(date => (double)Math.Min(date, horizon))];

            Assert.Equal(
                Crps.Ensemble(censored, Math.Min(came, horizon)),
                Crps.OfDays(reached, dates.Length, came),
                1e-12);
            Assert.Equal(Crps.Ensemble(censored, horizon), Crps.OfDays(reached, dates.Length, null), 1e-12);
        });

    /// <summary>Of four members two have pins on day 1, one on day 3 and one not within four days.</summary>
    [Fact]
    public void Days_are_added_up_by_hand_as_by_the_model()
    {
        int[] reached = [0, 2, 2, 3]; // F: 0, ½, ½, ¾

        Assert.Equal(0 + 0.25 + 0.25 + 0.0625, Crps.OfDays(reached, 4, 2), 1e-15);
        Assert.Equal(0 + 0.25 + 0.25 + 0.5625, Crps.OfDays(reached, 4, null), 1e-15);
        Assert.Equal(1 + 0.25 + 0.25 + 0.0625, Crps.OfDays(reached, 4, 0), 1e-15);
    }

    [Fact]
    public void Counts_that_fall_or_exceed_the_members_are_refused()
    {
        Assert.Throws<ArgumentException>(() => Crps.OfDays([1, 0], 2, null));
        Assert.Throws<ArgumentException>(() => Crps.OfDays([1, 3], 2, null));
        Assert.Throws<ArgumentException>(() => Crps.OfDays([-1], 2, null));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.OfDays([0], 0, null));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.OfDays([0], 1, -1));
    }

    [Fact]
    public void What_cannot_be_scored_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Crps.Ensemble([], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.Fair([1], 1));
        Assert.Throws<ArgumentException>(() => Crps.Ensemble([1, 2], [1], 1));
        Assert.Throws<ArgumentException>(() => Crps.Ensemble([1, 2], [0, 0], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.Ensemble([1, 2], [2, -1], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.Ensemble([1, double.NaN], 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.Ensemble([1, 2], double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.Normal(0, -1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Crps.Normal(0, 1, double.NaN));
    }
}
