using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Verification;
using FruitWatch.Model.Verification.Backtest;

namespace FruitWatch.Model.Tests.Verification.Backtest;

public class BacktestRunTests
{
    private static readonly BacktestSetting s_small = new()
    {
        Weather = Cities.NewYork,
        Ladder = new EvaporationLadder(40.7) { TemperatureOnly = true },
        Species = [BedCatalogue.BuiltIn.Species["wine-cap"], BedCatalogue.BuiltIn.Species["oyster-cold"]],
        Catalogue = BedCatalogue.BuiltIn,
        BedsPerYear = 2,
        Every = 9,
        Threads = 2,
    };

    private static readonly BacktestSetting s_smallest = s_small with { Species = [BedCatalogue.BuiltIn.Species["wine-cap"]], Every = 40 };

    private static readonly Lazy<BacktestResult> s_result = new(() => BacktestRun.Run(s_small));

    [Fact]
    public void Forecasts_beat_the_calendar_and_the_rule_of_thumb()
    {
        var week = BacktestResult.Score(s_result.Value.Learned, 7);

        Assert.True(week.Cases > 200 && week.Pins > 10, $"{week.Cases} cases, {week.Pins} with pins");
        Assert.True(week.SkillOverClimatology.Value > 0.1, $"{week.SkillOverClimatology}");
        Assert.True(week.SkillOverRuleOfThumb.Value > 0.3, $"{week.SkillOverRuleOfThumb}");
        Assert.True(week.SkillOverRuleAsFrequency.Value > 0.1, $"{week.SkillOverRuleAsFrequency}");
    }

    [Fact]
    public void What_the_log_teaches_makes_them_better()
    {
        var (learned, unlearned) = (BacktestResult.Score(s_result.Value.Learned, 7), BacktestResult.Score(s_result.Value.Unlearned, 7));

        Assert.Equal(unlearned.Cases, learned.Cases);
        Assert.True(learned.Brier < unlearned.Brier, $"{learned.Brier} against {unlearned.Brier}");
        Assert.True(learned.DateCrps.Value < unlearned.DateCrps.Value, $"{learned.DateCrps} against {unlearned.DateCrps}");
    }

    [Fact]
    public void Knowing_that_the_grower_goes_on_watering_makes_them_better_at_a_month()
    {
        var (alone, kept) = (BacktestResult.Score(s_result.Value.Learned, 30), BacktestResult.Score(s_result.Value.KeptMoist, 30));

        Assert.True(kept.Brier < alone.Brier, $"{kept.Brier} against {alone.Brier}");
    }

    /// <summary>Who always says how often pins come knows less than the calendar: at a week hardly less, at a month much less.</summary>
    [Theory]
    [InlineData(7, -0.15)]
    [InlineData(30, -1.0)]
    public void A_forecaster_who_knows_nothing_has_no_skill(int lead, double lowest)
    {
        var cases = s_result.Value.Learned.Where(c => c.Lead == lead).Select(c => c.Case).ToList();
        var rate = cases.Average(c => c.PinsCame ? 1.0 : 0.0);

        var skill = PinsScores.Of([.. cases.Select(c => c with { Chance = rate })]).SkillOverClimatology;

        Assert.InRange(Assert.NotNull(skill.Value), lowest, 0.05);
    }

    [Fact]
    public void Who_only_knows_the_calendar_has_exactly_none()
    {
        var cases = s_result.Value.Learned.Where(c => c.Case.ClimatologicalChance is not null).Select(c => c.Case with { Chance = c.Case.ClimatologicalChance!.Value }).ToList();

        Assert.NotEmpty(cases);
        Assert.Equal(0, PinsScores.Of(cases).SkillOverClimatology.Value);
    }

    [Fact]
    public void The_result_does_not_depend_on_the_number_of_threads()
    {
        var one = BacktestRun.Run(s_smallest with { Threads = 1 });
        var many = BacktestRun.Run(s_smallest with { Threads = 3 });

        Assert.Equal(one.Learned, many.Learned);
        Assert.Equal(one.KeptMoist, many.KeptMoist);
        Assert.Equal(one.Unlearned, many.Unlearned);
    }

    [Fact]
    public void Another_seed_makes_other_beds_and_other_forecasts()
    {
        var other = BacktestRun.Run(s_smallest with { Seed = 2 });

        Assert.NotEqual(BacktestRun.Run(s_smallest).Learned, other.Learned);
    }

    [Fact]
    public void What_comes_after_a_morning_does_not_change_its_outlook_but_for_the_forecast()
    {
        // The last ten months are another year's; outlooks whose forecast, history and log end before must not know.
        var until = Cities.NewYork[^1].Date.PlusMonths(-10);
        var changed = Cities.NewYork.Select(day => day.Date <= until
            ? day
            : Cities.NewYork.First(d => d.Date == day.Date.PlusYears(-1)) with { Date = day.Date }).ToList();
        var setting = s_smallest;

        // Outlooks within the eleven months before the change leave what comes then out of the history.
        var from = until.PlusMonths(-1);
        bool Early(BacktestCase c) => c.Issued >= from && c.Issued <= until.PlusDays(-MadeForecast.Days) && c.Lead == 3;
        var before = BacktestRun.Run(setting).Learned.Where(Early).Select(c => (c.Bed, c.Issued, c.Case.Chance)).ToList();
        var after = BacktestRun.Run(setting with { Weather = changed }).Learned.Where(Early).Select(c => (c.Bed, c.Issued, c.Case.Chance)).ToList();

        Assert.NotEmpty(before);
        Assert.Equal(before, after);
    }

    [Fact]
    public void In_the_south_beds_are_made_half_a_year_off()
    {
        var result = BacktestRun.Run(s_smallest with
        {
            Weather = [.. Cities.NewYork.Select(day => day with { Date = day.Date.PlusDays(184) })],
            Ladder = new EvaporationLadder(-40.7) { TemperatureOnly = true },
            Every = 20,
        });

        Assert.True(BacktestResult.Score(result.Learned, 30).Pins > 10);
        Assert.True(BacktestResult.Score(result.Learned, 30).SkillOverRuleOfThumb.Value > 0);
    }

    [Fact]
    public void Too_short_a_weather_is_refused_with_what_would_do()
    {
        var error = Assert.Throws<ArgumentException>(() => BacktestRun.Run(s_small with { Weather = [.. Cities.NewYork.Take(1000)] }));

        Assert.Equal("There are 1000 days of weather; a backtest needs at least 3 years, 1095 days: one that is forecast and two that tell what is usual.", error.Message);
    }

    [Theory]
    [InlineData(0, 7)]
    [InlineData(7, 3)]
    [InlineData(7, 41)]
    public void Leads_outside_the_outlook_or_out_of_order_are_refused(int one, int other)
    {
        var error = Assert.Throws<ArgumentException>(() => BacktestRun.Run(s_small with { Leads = [one, other] }));

        Assert.StartsWith("Leads are whole days from 1 to 40", error.Message, StringComparison.Ordinal);
    }
}
