using CsCheck;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Learning;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Learning;

public class BedLearningTests
{
    private const int Members = 64;

    [Fact]
    public void With_nothing_observed_all_pairs_count_the_same_and_it_is_said()
    {
        var learned = Learn(Made.Bed(), [new WaterGiven(Made.Day0.PlusDays(3), 5), new ContaminationSeen(Made.Day0.PlusDays(20))]);

        Assert.True(learned.IsPrior);
        Assert.False(learned.LogDisagrees);
        Assert.Equal(256, learned.EffectivePairs, 1e-9);
        Assert.All(learned.Weights, weight => Assert.Equal(1.0 / 256, weight));
        // Log-normal with σ 0.30 and 0.25: 5 % lie below e^(−1.645 σ), 95 % below e^(1.645 σ).
        Assert.Equal(Math.Exp(-1.645 * 0.30), learned.Evaporation.P5, 0.03);
        Assert.Equal(1, learned.Evaporation.P50, 0.03);
        Assert.Equal(Math.Exp(1.645 * 0.30), learned.Evaporation.P95, 0.06);
        Assert.Equal(Math.Exp(-1.645 * 0.25), learned.Growth.P5, 0.03);
        Assert.Equal(Math.Exp(1.645 * 0.25), learned.Growth.P95, 0.06);
        Assert.Equal(Math.Exp(0.25 * 0.25 / 2), learned.Growth.Mean, 0.02);
    }

    [Fact]
    public void Each_lane_of_the_end_is_the_account_of_a_bed_with_its_multipliers()
    {
        List<LogEntry> log = [new WaterGiven(Made.Day0.PlusDays(10), 8), new PinsSeen(Made.Day0.PlusDays(35)), new SqueezeTest(Made.Day0.PlusDays(41), Squeeze.Right)];
        var learned = Learn(Made.Bed(), log);

        foreach (var lane in new[] { 0, 100, 255 })
        {
            var bed = Made.Bed() with { EvaporationMultiplier = learned.End.EvaporationMultiplier[lane], GrowthMultiplier = learned.End.GrowthMultiplier[lane] };
            var day = Made.Run(bed, s_weather, log).Days[^1];
            Assert.Equal(
                (day.Water, day.BedTemperature, day.SpawnRun, day.Phase),
                (learned.End.Water[lane], learned.End.BedTemperature[lane], learned.End.SpawnRun[lane], learned.End.PhaseOf(lane)));
        }
    }

    [Fact]
    public void A_bed_found_drier_than_expected_again_and_again_evaporates_more()
    {
        var dry = Learn(Made.Bed(), Every(10, day => new SqueezeTest(day, Squeeze.Crumbles)));
        var wet = Learn(Made.Bed(), Every(10, day => new SqueezeTest(day, Squeeze.Dripping)));

        Assert.True(dry.Evaporation.P50 > wet.Evaporation.P50 + 0.1);
        Assert.Equal(new LearnedFrom(8, 0, 0, 0), dry.From);
    }

    [Fact]
    public void A_moisture_measured_says_more_than_a_squeeze()
    {
        var truth = Made.Run(Made.Bed() with { EvaporationMultiplier = 1.3 }, s_weather);
        var learned = Learn(Made.Bed(), Every(5, day => new MoistureMeasured(day, truth.On(day)!.Value.WetBasis)));

        Assert.Equal(16, learned.From.Moistures);
        Assert.InRange(1.3, learned.Evaporation.P5, learned.Evaporation.P95);
        Assert.True(Width(learned.Evaporation) < Width(Learn(Made.Bed(), []).Evaporation));
    }

    [Fact]
    public void Looks_that_find_no_pins_where_they_should_stand_mean_slow_growth()
    {
        // The account with the middle multipliers has pins on some day; looks on the days after it find none.
        var pins = Made.Run(Made.Bed(), s_weather).Days.First(day => day.Event == AccountEvent.Pins).Date;
        var unseen = Learn(Made.Bed(), [new NoPinsFound(pins.PlusDays(3))]);
        var twice = Learn(Made.Bed(), [new NoPinsFound(pins.PlusDays(1)), new NoPinsFound(pins.PlusDays(3))]);

        Assert.False(unseen.IsPrior);
        Assert.Equal(new LearnedFrom(0, 0, 0, 0, 1), unseen.From);
        Assert.True(unseen.Growth.P50 < Learn(Made.Bed(), []).Growth.P50);
        // The earlier look says more only of pairs whose flush was over by the later one.
        Assert.InRange(twice.Growth.P50, unseen.Growth.P50 - 0.1, unseen.Growth.P50);
    }

    [Fact]
    public void For_a_week_no_future_goes_on_from_pins_that_a_look_did_not_find()
    {
        var pins = Made.Run(Made.Bed(), s_weather).Days.First(day => day.Event == AccountEvent.Pins).Date;
        var until = pins.PlusDays(1);

        var looked = Standing(Learn(Made.Bed(), [new NoPinsFound(until)], until));
        var unlooked = Standing(Learn(Made.Bed(), [], until));
        var longAgo = Standing(Learn(Made.Bed(), [new NoPinsFound(pins.PlusDays(-30))], until));
        Assert.Equal(0, looked);
        Assert.InRange(unlooked, Members / 4, Members);
        Assert.Equal(unlooked, longAgo);

        static int Standing(BedLearned learned) =>
            learned.Lanes.Count(lane => learned.End.PhaseOf(lane) is Phase.Growing or Phase.Picking);
    }

    [Fact]
    public void Looks_before_any_pair_has_pins_teach_nothing()
    {
        var learned = Learn(Made.Bed(), [new NoPinsFound(Made.Day0.PlusDays(5))]);

        Assert.Equal(256, learned.EffectivePairs, 1e-9);
    }

    [Fact]
    public void Pins_seen_later_take_the_place_of_looks_that_found_none()
    {
        var pins = Made.Run(Made.Bed(), s_weather).Days.First(day => day.Event == AccountEvent.Pins).Date;
        var seen = new PinsSeen(pins.PlusDays(4));

        Assert.Equal(Learn(Made.Bed(), [seen]).Growth, Learn(Made.Bed(), [new NoPinsFound(pins.PlusDays(2)), seen]).Growth);
    }

    [Fact]
    public void Mycelium_that_is_behind_means_slow_growth_and_ahead_fast()
    {
        var middle = Made.Run(Made.Bed(), s_weather).On(Made.Day0.PlusDays(20))!.Value.SpawnRun;
        var behind = Learn(Made.Bed(), [new MyceliumSeen(Made.Day0.PlusDays(20), middle - 0.2)]);
        var ahead = Learn(Made.Bed(), [new MyceliumSeen(Made.Day0.PlusDays(20), middle + 0.2)]);

        Assert.True(behind.Growth.P50 < 0.95 && ahead.Growth.P50 > 1.05);
        Assert.Equal(1, ahead.From.MyceliumLooks);
    }

    [Fact]
    public void Early_pins_mean_fast_growth_and_late_ones_slow()
    {
        var usual = DayOfPins(Made.Run(Made.Bed(), s_weather));
        var early = Learn(Made.Bed(), [new PinsSeen(Made.Day0.PlusDays(usual - 8))]);
        var late = Learn(Made.Bed(), [new PinsSeen(Made.Day0.PlusDays(usual + 8))]);

        Assert.True(early.Growth.P50 > 1.05 && late.Growth.P50 < 0.95);
        Assert.Equal((1, 1), (early.From.PinsDates, late.From.PinsDates));
    }

    [Fact]
    public void Pins_seen_today_tell_against_the_pairs_that_have_had_them_long_ago_and_against_those_that_have_none_yet()
    {
        var usual = DayOfPins(Made.Run(Made.Bed(), s_weather));
        var today = Made.Day0.PlusDays(usual);
        var weather = SiteForcing.Of([.. s_weather.Where(day => day.Date <= today)], Made.AsGiven);
        var learned = new BedLearning(Made.Catalogue).Run(Made.Bed(), [new PinsSeen(today)], weather, today, 1, Members);

        Assert.True(Width(learned.Growth) < 0.8 * Width(Learn(Made.Bed(), []).Growth));
        Assert.InRange(1.0, learned.Growth.P5, learned.Growth.P95);
    }

    [Fact]
    public void Pins_of_the_same_flush_seen_again_are_no_new_date()
    {
        var usual = Made.Day0.PlusDays(DayOfPins(Made.Run(Made.Bed(), s_weather)));
        var once = Learn(Made.Bed(), [new PinsSeen(usual)]);
        var again = Learn(Made.Bed(), [new PinsSeen(usual), new PinsSeen(usual.PlusDays(3)), new Picked(usual.PlusDays(5), 1), new PinsSeen(usual.PlusDays(6))]);

        Assert.Equal(once.Weights, again.Weights);
    }

    [Fact]
    public void A_look_at_the_mycelium_after_pins_says_nothing_of_the_run()
    {
        List<LogEntry> log = [new PinsSeen(Made.Day0.PlusDays(40))];

        Assert.Equal(Learn(Made.Bed(), log).Weights, Learn(Made.Bed(), [.. log, new MyceliumSeen(Made.Day0.PlusDays(50), 0.3)]).Weights);
    }

    /// <summary>All of it seen white, with an error of 0.15: at least 0.70 of it is, beyond doubt.</summary>
    [Fact]
    public void The_end_takes_over_a_look_at_the_mycelium_only_as_far_as_its_error_leaves_no_doubt()
    {
        var day = Made.Day0.PlusDays(5);
        var end = new BedLearning(Made.Catalogue).Run(
            Made.Bed(), [new MyceliumSeen(day, 1)], SiteForcing.Of(s_weather, Made.AsGiven), day, 1, Members).End;

        Assert.All(end.SpawnRun, run => Assert.Equal(0.70, run, 1e-12));
    }

    [Fact]
    public void A_log_that_contradicts_every_pair_is_said_to_and_leaves_the_pairs_countable()
    {
        var learned = Learn(Made.Bed(), Every(4, day => new MoistureMeasured(day, 0.02)));

        Assert.True(learned.LogDisagrees);
        Assert.Equal(1, learned.Weights.Sum(), 1e-9);
        Assert.True(double.IsFinite(learned.Evaporation.Mean) && double.IsFinite(learned.Growth.P95));
        Assert.True(learned.EffectivePairs >= 15.99);
    }

    [Fact]
    public void Whatever_the_log_the_weights_are_weights_and_the_lanes_lanes() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, Gen.Int[-5, AnyBed.Days - 1]).Sample((bed, weather, log, last) =>
        {
            var learned = new BedLearning(Made.Catalogue).Run(
                bed, log, SiteForcing.Of(weather, Made.AsGiven), bed.Inoculated.PlusDays(last), 3, Members);

            Assert.Equal(1, learned.Weights.Sum(), 1e-9);
            Assert.All(learned.Weights, weight => Assert.True(weight >= 0));
            Assert.InRange(learned.EffectivePairs, 15.99, 256.01);
            Assert.Equal(Members, learned.Lanes.Length);
            Assert.Equal(learned.Lanes.Order(), learned.Lanes);
            Assert.True(learned.Lanes[0] >= 0 && learned.Lanes[^1] < 256);
            Assert.True(learned.Evaporation.P5 <= learned.Evaporation.P50 && learned.Evaporation.P50 <= learned.Evaporation.P95);
            Assert.True(learned.Growth.P5 <= learned.Growth.P50 && learned.Growth.P50 <= learned.Growth.P95);
            Assert.All(learned.End.Water, water => Assert.True(double.IsFinite(water)));
        }, iter: 40);

    [Fact]
    public void The_same_seed_gives_the_same_to_the_last_bit_whatever_bed_came_between() =>
        Gen.Select(AnyBed.Bed.Array[2], AnyBed.Weather, AnyBed.Log, Gen.ULong).Sample((beds, weather, log, seed) =>
        {
            var learning = new BedLearning(Made.Catalogue);
            var past = SiteForcing.Of(weather, Made.AsGiven);
            var until = Made.Day0.PlusDays(AnyBed.Days - 1);
            var first = Kept(learning.Run(beds[0], log, past, until, seed, Members));
            learning.Run(beds[1], log, past, until, seed, Members);

            Assert.Equal(first, Kept(learning.Run(beds[0], log, past, until, seed, Members)));
            Assert.Equal(first, Kept(new BedLearning(Made.Catalogue).Run(beds[0], log, past, until, seed, Members)));
        }, iter: 15);

    [Fact]
    public void Another_seed_gives_other_pairs_that_tell_much_the_same()
    {
        var log = Every(7, day => new SqueezeTest(day, Squeeze.Right));
        var (one, other) = (Learn(Made.Bed(), log, seed: 1), Learn(Made.Bed(), log, seed: 2));

        Assert.NotEqual(one.Weights, other.Weights);
        Assert.Equal(one.Evaporation.P50, other.Evaporation.P50, 0.05);
    }

    [Fact]
    public void The_order_of_the_log_in_the_list_does_not_matter_and_an_undone_entry_leaves_no_trace() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, AnyBed.Entry()).Sample((bed, weather, log, mistake) =>
        {
            var learning = new BedLearning(Made.Catalogue);
            var past = SiteForcing.Of(weather, Made.AsGiven);
            var until = Made.Day0.PlusDays(AnyBed.Days - 1);
            List<LogEntry> timed = [.. log.Select((entry, i) => entry with { Time = LocalTime.Midnight.PlusMinutes(i) })];
            var first = Kept(learning.Run(bed, timed, past, until, 5, Members));
            learning.Run(bed, [.. timed, mistake], past, until, 5, Members);

            Assert.Equal(first, Kept(learning.Run(bed, [.. Enumerable.Reverse(timed)], past, until, 5, Members)));
        }, iter: 15);

    [Fact]
    public void Entries_after_the_last_day_are_not_known_yet()
    {
        var until = Made.Day0.PlusDays(40);
        List<LogEntry> log = [new PinsSeen(Made.Day0.PlusDays(35))];
        var past = SiteForcing.Of(s_weather, Made.AsGiven);
        var learning = new BedLearning(Made.Catalogue);
        var known = Kept(learning.Run(Made.Bed(), log, past, until, 1, Members));

        Assert.Equal(known, Kept(learning.Run(
            Made.Bed(), [.. log, new WaterGiven(until.PlusDays(1), 30), new MyceliumSeen(until.PlusDays(2), 1)], past, until, 1, Members)));
    }

    [Fact]
    public void A_bed_made_today_stands_at_the_evening_before_in_all_pairs()
    {
        List<WeatherDay> before = [.. s_weather.Select(day => day with { Date = day.Date.PlusDays(-s_weather.Count) })];
        var past = SiteForcing.Of(before, Made.AsGiven);
        var learned = new BedLearning(Made.Catalogue).Run(Made.Bed(), [], past, Made.Day0.PlusDays(-1), 1, Members);
        var outlook = SiteForcing.Of([.. before, .. s_weather], Made.AsGiven);
        var (state, result) = (new BedState(Members), new DayResult(Members));
        state.StartFrom(learned.End, learned.Lanes.AsSpan());
        new BedStep(new BedPlan(Made.Bed(), [], Made.Catalogue, 1), outlook.Latitude).Advance(state, outlook, 0, result);

        Assert.True(learned.IsPrior);
        Assert.Equal(64, state.GrowthMultiplier[..Members].Distinct().Count());
        var bed = Made.Bed() with { EvaporationMultiplier = state.EvaporationMultiplier[9], GrowthMultiplier = state.GrowthMultiplier[9] };
        var day = BedAccount.Run(bed, [], outlook, Made.Catalogue, Made.Day0).Days[0];
        Assert.Equal((day.Water, day.BedTemperature, day.SpawnRun), (state.Water[9], state.BedTemperature[9], state.SpawnRun[9]));
    }

    [Fact]
    public void Weather_that_does_not_reach_is_refused_with_what_is_needed()
    {
        var past = SiteForcing.Of(s_weather, Made.AsGiven);
        var learning = new BedLearning(Made.Catalogue);

        var late = Assert.Throws<ArgumentException>(() => learning.Run(Made.Bed(), [], past, past.End, 1, Members));
        Assert.Contains("learning needs 2025-04-10 to", late.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => learning.Run(Made.Bed() with { Inoculated = past.First.PlusDays(-1) }, [], past, past.First, 1, Members));
        Assert.Throws<ArgumentException>(() => learning.Run(Made.Bed(), [], new SiteForcing(Made.Day0, 5, 2, 47), Made.Day0, 1, Members));
        Assert.Throws<ArgumentException>(() => learning.Run(Made.Bed(), [new PinsSeen(Made.Day0.PlusDays(-1))], past, Made.Day0, 1, Members));
    }

    /// <summary>A hundred mild days with a good shower every sixth; a bed like the catalogue's has pins after two months.</summary>
    private static readonly List<WeatherDay> s_weather =
    [
        .. Enumerable.Range(0, 100).Select(i => Made.Weather(Made.Day0.PlusDays(i), mean: 18 + i % 5, rain: i % 6 == 0 ? 14 : 0, et0: 2)),
    ];

    private static BedLearned Learn(Bed bed, IReadOnlyList<LogEntry> log, LocalDate until) =>
        new BedLearning(Made.Catalogue).Run(bed, log, SiteForcing.Of(s_weather, Made.AsGiven), until, 1, Members);

    private static BedLearned Learn(Bed bed, IReadOnlyList<LogEntry> log, ulong seed = 1) =>
        new BedLearning(Made.Catalogue).Run(bed, log, SiteForcing.Of(s_weather, Made.AsGiven), s_weather[^1].Date, seed, Members);

    private static List<LogEntry> Every(int days, Func<LocalDate, LogEntry> entry) =>
        [.. Enumerable.Range(1, 80 / days).Select(i => entry(Made.Day0.PlusDays(i * days)))];

    private static double Width(LearnedMultiplier multiplier) => multiplier.P95 - multiplier.P5;

    private static int DayOfPins(BedAccount account) => account.Days.ToList().FindIndex(day => day.Event == AccountEvent.Pins);

    private static (string Weights, string Lanes, string Water, LearnedMultiplier Evaporation, LearnedMultiplier Growth, LearnedFrom From, bool Disagrees) Kept(BedLearned learned) =>
        (Bits(learned.Weights), string.Join(' ', learned.Lanes), Bits(learned.End.Water), learned.Evaporation, learned.Growth, learned.From, learned.LogDisagrees);

    private static string Bits(IEnumerable<double> values) => string.Join(' ', values.Select(BitConverter.DoubleToInt64Bits));
}
