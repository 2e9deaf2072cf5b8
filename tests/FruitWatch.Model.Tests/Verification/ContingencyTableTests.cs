using CsCheck;
using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

public class ContingencyTableTests
{
    private const double Exact = 1e-12;

    private static readonly Gen<int> s_count = Gen.Frequency((1, Gen.Const(0)), (3, Gen.Int[0, 50]), (1, Gen.Int[0, 2_000_000_000]));
    private static readonly Gen<ContingencyTable> s_table = Gen.Select(s_count, s_count, s_count, s_count, (a, b, c, d) => new ContingencyTable(a, b, c, d));

    [Fact]
    public void Every_score_is_undefined_or_within_its_bounds() => s_table.Sample(table =>
    {
        Within(table.ProportionCorrect, 0, 1);
        Within(table.Bias, 0, double.MaxValue);
        Within(table.Pod, 0, 1);
        Within(table.Far, 0, 1);
        Within(table.Pofd, 0, 1);
        Within(table.Csi, 0, 1);
        Within(table.Pss, -1, 1);
        Within(table.Ets, -1.0 / 3, 1);
        Within(table.Hss, -1, 1);
        Within(table.OddsRatio, 0, double.MaxValue);
        Within(table.Orss, -1, 1);
    });

    [Fact]
    public void A_table_of_nothing_has_no_score()
    {
        var nothing = new ContingencyTable(0, 0, 0, 0);
        double?[] scores =
        [
            nothing.ProportionCorrect, nothing.Bias, nothing.Pod, nothing.Far, nothing.Pofd, nothing.Csi, nothing.Pss, nothing.Ets,
            nothing.Hss, nothing.OddsRatio, nothing.Orss,
        ];

        Assert.Equal(0, nothing.Total);
        Assert.All(scores, score => Assert.Null(score));
    }

    /// <summary>Heidke's score by its sum over expected hits, a second way to it (Murphy 1996).</summary>
    [Fact]
    public void Heidkes_score_is_the_share_of_right_forecasts_beyond_those_right_by_luck() => s_table.Sample(table =>
    {
        double a = table.Hits, b = table.FalseAlarms, c = table.Misses, d = table.CorrectNegatives, n = table.Total;
        if (table.Hss is not { } hss)
            return;
        var lucky = ((a + b) * (a + c) + (c + d) * (b + d)) / n;
        Assert.Equal((a + d - lucky) / (n - lucky), hss, 1e-5);
    });

    /// <summary>Gilbert's score as it is printed, with the hits by luck (Murphy 1996).</summary>
    [Fact]
    public void Gilberts_score_is_the_critical_success_index_without_the_hits_by_luck() => s_table.Sample(table =>
    {
        double a = table.Hits, b = table.FalseAlarms, c = table.Misses, n = table.Total;
        if (table.Ets is not { } ets)
            return;
        var lucky = (a + b) * (a + c) / n;
        Assert.Equal((a - lucky) / (a + b + c - lucky), ets, 1e-5);
    });

    [Fact]
    public void Peirces_score_turns_over_when_yes_and_no_are_exchanged() => s_table.Sample(table =>
    {
        var contrary = new ContingencyTable(table.Misses, table.CorrectNegatives, table.Hits, table.FalseAlarms);
        if (table.Pss is { } pss)
            Assert.Equal(-pss, Assert.NotNull(contrary.Pss), Exact);
    });

    [Fact]
    public void Chances_count_as_a_yes_from_the_threshold_on()
    {
        var table = ContingencyTable.Of([0.5, 0.49, 0.9, 0.1, 0.5], [true, true, false, false, true], 0.5);

        Assert.Equal(new ContingencyTable(2, 1, 1, 1), table);
    }

    [Fact]
    public void Every_forecast_is_counted_once() => Gen.Select(AnyForecasts.Some, Gen.Double[0, 1]).Sample((forecasts, threshold) =>
    {
        var table = ContingencyTable.Of(forecasts.Chances, forecasts.Outcomes, threshold);

        Assert.Equal(forecasts.Chances.Length, table.Total);
        Assert.Equal(forecasts.Outcomes.Count(came => came), table.Hits + table.Misses);
        Assert.Equal(forecasts.Chances.Count(chance => chance >= threshold), table.Hits + table.FalseAlarms);
    });

    [Fact]
    public void A_forecast_without_an_outcome_is_refused() =>
        Assert.Contains("2 forecasts and 1 outcomes", Assert.Throws<ArgumentException>(() => ContingencyTable.Of([0.1, 0.2], [true], 0.5)).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData(1.01)]
    [InlineData(-0.01)]
    [InlineData(double.NaN)]
    public void What_is_not_a_chance_is_refused(double chance)
    {
        Assert.Throws<ArgumentOutOfRangeException>("chances", () => ContingencyTable.Of([chance], [true], 0.5));
        Assert.Throws<ArgumentOutOfRangeException>("threshold", () => ContingencyTable.Of([0.5], [true], chance));
    }

    [Fact]
    public void A_count_below_0_is_refused() => Assert.Throws<ArgumentOutOfRangeException>("Misses", () => new ContingencyTable(1, 1, -1, 1));

    private static void Within(double? score, double low, double high)
    {
        if (score is { } value)
            Assert.InRange(value, low - Exact, high + Exact);
    }
}
