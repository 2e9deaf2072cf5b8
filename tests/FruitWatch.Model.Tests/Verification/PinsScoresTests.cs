using CsCheck;
using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

public class PinsScoresTests
{
    /// <summary>Four mornings, worked out by hand below.</summary>
    private static readonly PinsCase[] s_four =
    [
        new(0.8, true, 2023) { ClimatologicalChance = 0.5, RuleOfThumb = true, DateCrps = 2, LeadDays = 9 },
        new(0.6, false, 2023) { ClimatologicalChance = 0.5, RuleOfThumb = true, DateCrps = 4 },
        new(0.1, false, 2024) { ClimatologicalChance = 0.5, RuleOfThumb = false },
        new(0.3, true, 2024) { LeadDays = 3 },
    ];

    private static readonly Gen<PinsCase> s_case = Gen.Select(
        AnyForecasts.Chance, Gen.Bool, Gen.Int[2019, 2025], AnyForecasts.Chance.Nullable(), Gen.Bool.Nullable(), Gen.Int[0, 20].Nullable(),
        (chance, came, season, usual, rule, lead) => new PinsCase(chance, came, season) { ClimatologicalChance = usual, RuleOfThumb = rule, LeadDays = lead });

    [Fact]
    public void Four_mornings_score_as_by_hand()
    {
        var scores = PinsScores.Of(s_four);

        Assert.Equal((4, 2), (scores.Cases, scores.Pins));
        Assert.Equal((0.04 + 0.36 + 0.01 + 0.49) / 4, Assert.NotNull(scores.Brier), 1e-12);
        // Of the first three: (0.04 + 0.36 + 0.01)/3 against ¼.
        Is(1 - 0.41 / 3 / 0.25, 3, scores.SkillOverClimatology);
        // The rule was wrong once in three.
        Is(1 - 0.41, 3, scores.SkillOverRuleOfThumb);
        // Its yes came true once in two, its no stayed true: 2·¼ in place of 1.
        Is(1 - 0.41 / 0.5, 3, scores.SkillOverRuleAsFrequency);
        Assert.Equal(new ContingencyTable(1, 1, 1, 1), scores.Table);
        Is(3, 2, scores.DateCrps);
        // The miss had a first warning too, but a chance below one half on its morning.
        Is(9, 1, scores.LeadDays);
        Assert.Null(scores.SkillOverRuleOfThumbRange); // two seasons
    }

    [Fact]
    public void Chances_fall_into_ten_classes_and_empty_ones_are_kept()
    {
        PinsCase[] tenths = [.. Enumerable.Range(0, 11).Select(k => new PinsCase(k / 10.0, k % 2 == 0, 2025))];

        var classes = PinsScores.Of(tenths).Reliability;

        Assert.Equal(10, classes.Count);
        Assert.Equal([1, 1, 1, 1, 1, 1, 1, 1, 1, 2], classes.Select(c => c.Cases));
        Assert.Equal(new ReliabilityClass(0.2, 0.3, 0.2, 1, 1), classes[2] with { From = 0.2, To = 0.3 });
        Assert.Equal(0.95, Assert.NotNull(classes[9].MeanChance), 1e-12);
        Assert.Equal(0.5, classes[9].Frequency);
        Assert.Equal(new ReliabilityClass(0.5, 0.6, null, null, 0), PinsScores.Of(s_four).Reliability[5]);
    }

    [Fact]
    public void Without_a_case_there_is_no_score_and_it_is_too_early()
    {
        var scores = PinsScores.Of([]);

        Assert.Equal(0, scores.Cases);
        Assert.True(scores.TooEarly);
        Assert.Null(scores.Brier);
        Assert.Equal(default, scores.SkillOverClimatology);
        Assert.Equal(default, scores.SkillOverRuleOfThumb);
        Assert.Equal(default, scores.SkillOverRuleAsFrequency);
        Assert.Equal(default, scores.DateCrps);
        Assert.Equal(default, scores.LeadDays);
        Assert.Null(scores.SkillOverRuleOfThumbRange);
        Assert.Equal(10, scores.Reliability.Count);
    }

    [Theory]
    [InlineData(19, true)]
    [InlineData(20, false)]
    public void Below_20_cases_it_is_too_early_to_tell(int cases, bool tooEarly) =>
        Assert.Equal(tooEarly, PinsScores.Of([.. Enumerable.Repeat(s_four[0], cases)]).TooEarly);

    [Fact]
    public void Over_a_rule_that_was_never_wrong_there_is_no_skill_to_tell_but_the_cases_are_counted()
    {
        var scores = PinsScores.Of([.. Enumerable.Range(2020, 5).Select(year => new PinsCase(0.8, true, year) { RuleOfThumb = true })]);

        Assert.Equal(new CountedScore(null, 5), scores.SkillOverRuleOfThumb);
        Assert.Equal(new CountedScore(null, 5), scores.SkillOverRuleAsFrequency);
        Assert.Null(scores.SkillOverRuleOfThumbRange);
    }

    [Fact]
    public void The_rule_as_a_frequency_is_never_easier_to_beat_than_as_yes_and_no() => s_case.Array[1, 60].Sample(cases =>
    {
        var scores = PinsScores.Of(cases);
        if (scores.SkillOverRuleAsFrequency.Value is { } skill)
            Assert.True(skill <= Assert.NotNull(scores.SkillOverRuleOfThumb.Value) + 1e-12);
    });

    [Fact]
    public void Neither_the_order_of_cases_nor_running_again_changes_a_score() => s_case.Array[1, 60].Sample(cases =>
    {
        var one = PinsScores.Of(cases);
        var other = PinsScores.Of([.. cases.Reverse()]);

        Assert.Equal(one.Table, other.Table);
        Assert.Equal(one.Brier ?? -1, other.Brier ?? -1, 1e-12);
        Assert.Equal(one.SkillOverRuleOfThumb.Cases, other.SkillOverRuleOfThumb.Cases);
        Assert.Equal(one.SkillOverRuleOfThumbRange?.Low ?? -1, other.SkillOverRuleOfThumbRange?.Low ?? -1, 1e-9);
        Assert.Equal(one.SkillOverRuleOfThumbRange, PinsScores.Of(cases).SkillOverRuleOfThumbRange);
    });

    [Fact]
    public void Every_case_is_in_one_class_and_in_one_corner_of_the_table() => s_case.Array[0, 60].Sample(cases =>
    {
        var scores = PinsScores.Of(cases);

        Assert.Equal(cases.Length, scores.Reliability.Sum(c => c.Cases));
        Assert.Equal(cases.Length, scores.Table.Total);
        Assert.Equal(scores.Pins, scores.Table.Hits + scores.Table.Misses);
        Assert.All(scores.Reliability.Where(c => c.Cases > 0), c => Assert.InRange(c.MeanChance!.Value, c.From - 1e-12, c.To + 1e-12));
    });

    [Fact]
    public void Seasons_that_are_all_alike_leave_nothing_to_chance()
    {
        PinsCase[] cases = [.. Enumerable.Range(2020, 5).SelectMany(year => s_four[..3].Select(c => c with { Season = year }))];

        var scores = PinsScores.Of(cases);

        var range = Assert.NotNull(scores.SkillOverRuleOfThumbRange);
        Assert.Equal(scores.SkillOverRuleOfThumb.Value!.Value, range.Low, 1e-12);
        Assert.Equal(range.Low, range.High, 1e-12);
    }

    [Fact]
    public void A_good_year_among_bad_ones_widens_the_range_around_the_skill()
    {
        PinsCase Morning(int season, double chance) => new(chance, true, season) { RuleOfThumb = false };
        PinsCase[] cases = [Morning(2021, 0.9), Morning(2022, 0.2), Morning(2023, 0.3), Morning(2024, 0.1), Morning(2025, 0.2)];

        var scores = PinsScores.Of(cases, seed: 5);

        var range = Assert.NotNull(scores.SkillOverRuleOfThumbRange);
        Assert.InRange(scores.SkillOverRuleOfThumb.Value!.Value, range.Low + 0.05, range.High - 0.05);
        Assert.NotEqual(range, PinsScores.Of(cases, seed: 6).SkillOverRuleOfThumbRange);
        Assert.Null(PinsScores.Of(cases[..2]).SkillOverRuleOfThumbRange);
        Assert.NotNull(PinsScores.Of(cases[..3]).SkillOverRuleOfThumbRange);
    }

    [Fact]
    public void What_is_not_a_chance_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>("Chance", () => new PinsCase(1.2, true, 2025));
        Assert.Throws<ArgumentOutOfRangeException>("ClimatologicalChance", () => s_four[0] with { ClimatologicalChance = -0.1 });
    }

    private static void Is(double value, int cases, CountedScore score)
    {
        Assert.Equal(value, Assert.NotNull(score.Value), 1e-12);
        Assert.Equal(cases, score.Cases);
    }
}
