using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

/// <summary>Triggers, pins, flushes and rest, on species made so that one thing at a time decides.</summary>
public class FruitingTests
{
    private static readonly Species s_wineCap = Made.Catalogue.Species["wine-cap"];
    private static readonly Triggers s_none = new(null, null, null);
    private static readonly MyceliumSeen s_run = new(Made.Day0, 1);

    [Fact]
    public void Without_a_trigger_it_goes_through_its_phases_in_the_species_own_times()
    {
        var days = Made.Run(Bed(s_none), Made.Same(80, mean: 15), s_run).Days;

        // Run through from day 0; then 6 days to pins, 8 to the pick, 5 of picking. Six sixths, summed one by one, fall short of
        // 1 by the last bit: pins come on the seventh day. Then rest, slower than 14 days at 15 °C.
        Assert.Equal(
            [(1, AccountEvent.Colonised), (2, AccountEvent.Triggered), (9, AccountEvent.Pins), (17, AccountEvent.Harvest), (22, AccountEvent.FlushOver)],
            Events(days).Take(5));
        Assert.Equal(1, days[22].Flushes);
        Assert.Contains(Events(days), e => e.Event == AccountEvent.Ready && e.Day > 22 + 14);
    }

    [Fact]
    public void A_soak_counts_what_reached_the_layer_over_its_days_today_included()
    {
        var bed = Bed(new Triggers(new SoakTrigger(10, 5), null, null));

        Assert.Equal(14, Triggered(bed, (10, 4), (12, 3), (14, 3)));
        Assert.Null(Triggered(bed, (10, 4), (12, 3), (15, 3)));
        Assert.Equal(10, Triggered(bed, (10, 10)));
    }

    [Fact]
    public void Water_given_counts_towards_a_soak() =>
        Assert.Equal(
            10,
            Events(Made.Run(Bed(new Triggers(new SoakTrigger(10, 5), null, null)), Made.Same(30), s_run, new WaterGiven(Made.Day0.PlusDays(10), 10)).Days)
                .First(e => e.Event == AccountEvent.Triggered).Day);

    [Fact]
    public void An_unmet_trigger_is_named_while_the_bed_is_ready()
    {
        var days = Made.Run(Bed(new Triggers(new SoakTrigger(10, 5), new FrostTrigger(0, 2), null)), Made.Same(10), s_run).Days;

        Assert.Equal([LimitingFactor.Soak, LimitingFactor.Soak], days.Skip(2).Take(2).Select(day => day.Limit));
        Assert.Equal(LimitingFactor.Frost, Made.Run(Bed(new Triggers(null, new FrostTrigger(0, 2), null)), Made.Same(10), s_run).Days[5].Limit);
        Assert.Equal(LimitingFactor.Cooling, Made.Run(Bed(new Triggers(null, null, new CoolingTrigger(5, 8))), Made.Same(10), s_run).Days[5].Limit);
    }

    [Fact]
    public void Frosty_nights_count_from_the_day_after_it_became_ready()
    {
        var weather = Made.Same(30, mean: 16);
        foreach (var day in new[] { 0, 1, 5, 9 })
            weather[day] = Made.Weather(weather[day].Date, mean: 4);

        var days = Made.Run(Bed(new Triggers(null, new FrostTrigger(0, 2), null)), weather, s_run).Days;

        Assert.Equal((0, 0, 1, 2), (days[1].FrostNights, days[4].FrostNights, days[5].FrostNights, days[9].FrostNights));
        Assert.Equal(9, Events(days).First(e => e.Event == AccountEvent.Triggered).Day);
    }

    [Theory]
    [InlineData(47, 7)]
    [InlineData(-40, 1)]
    public void Frosty_nights_start_anew_with_the_cold_year(double latitude, int month)
    {
        var start = new LocalDate(2024, month, 1);
        var bed = Bed(new Triggers(null, new FrostTrigger(0, 99), null)) with { Inoculated = start.PlusDays(-10) };
        bed = bed with { Layers = [new Layer(Made.Chips, 0.15, bed.Inoculated)] };
        var weather = Enumerable.Range(0, 20).Select(i => Made.Weather(bed.Inoculated.PlusDays(i), mean: 3)).ToList();
        var account = BedAccount.Run(
            bed, [new MyceliumSeen(bed.Inoculated, 1)], SiteForcing.Of(weather, Made.AsGiven with { Latitude = latitude }), Made.Catalogue, weather[^1].Date);

        Assert.Equal((8, 1, 2), (account.Days[9].FrostNights, account.Days[10].FrostNights, account.Days[11].FrostNights));
    }

    [Fact]
    public void A_fall_below_the_last_ten_days_of_the_bed_is_a_cooling_once_ten_are_known()
    {
        var bed = Bed(new Triggers(null, null, new CoolingTrigger(5, -20)));

        // 15 °C before, so that the bed is at 15 °C; then a day at 10 °C.
        Assert.Equal(12, TriggeredByCold(bed, day: 12, mean: 9.999));
        Assert.Null(TriggeredByCold(bed, day: 12, mean: 10.001));
        Assert.Null(TriggeredByCold(bed, day: 9, mean: 5));
    }

    [Fact]
    public void A_bed_that_is_cool_enough_needs_no_fall() =>
        Assert.Equal(2, Events(Made.Run(Bed(new Triggers(null, null, new CoolingTrigger(50, 15))), Made.Same(5), s_run).Days)
            .First(e => e.Event == AccountEvent.Triggered).Day);

    [Fact]
    public void All_triggers_of_a_species_must_be_met_on_the_same_day()
    {
        var bed = Bed(new Triggers(new SoakTrigger(10, 1), new FrostTrigger(0, 1), null));
        var weather = Made.Same(20, mean: 12);
        weather[5] = weather[5] with { Rain = 20 };
        weather[8] = Made.Weather(weather[8].Date, mean: 4);
        weather[11] = weather[11] with { Rain = 20 };

        Assert.Equal(11, Events(Made.Run(bed, weather, s_run).Days).First(e => e.Event == AccountEvent.Triggered).Day);
    }

    [Theory]
    [InlineData(6, null)]
    [InlineData(7, 11)]
    public void Seven_poor_days_in_a_row_end_pinning(int poor, int? failed)
    {
        var days = Made.Run(Bed(s_none), Made.Same(40), [s_run, .. Dry(from: 5, poor)]).Days;

        Assert.Equal(failed, Day(days, AccountEvent.AttemptFailed));
    }

    [Theory]
    [InlineData(4, null)]
    [InlineData(5, 14)]
    public void Five_poor_days_in_a_row_lose_a_flush(int poor, int? lost)
    {
        var days = Made.Run(Bed(s_none), Made.Same(40), [s_run, .. Dry(from: 10, poor)]).Days;

        Assert.Equal(lost, Day(days, AccountEvent.FlushLost));
    }

    [Fact]
    public void A_good_day_starts_the_count_of_poor_ones_anew()
    {
        var days = Made.Run(Bed(s_none), Made.Same(40), [s_run, .. Dry(from: 10, 4), .. Dry(from: 15, 4)]).Days;

        Assert.DoesNotContain(Events(days), e => e.Event == AccountEvent.FlushLost);
    }

    [Fact]
    public void A_killing_frost_loses_a_flush_on_its_night()
    {
        var weather = Made.Same(30);
        weather[10] = Made.Weather(weather[10].Date, mean: 3);

        Assert.Equal(10, Day(Made.Run(Bed(s_none), weather, s_run).Days, AccountEvent.FlushLost));
        Assert.Null(Day(Made.Run(Bed(s_none) with { Cover = Cover.Sheet }, weather, s_run).Days, AccountEvent.FlushLost));
    }

    [Fact]
    public void A_filling_is_spent_after_the_flushes_it_gives()
    {
        var bed = Bed(s_none) with { Layers = [new Layer(Made.Chips with { FlushLife = 2 }, 0.15, Made.Day0)] };

        var days = Made.Run(bed, Made.Same(300, mean: 20), s_run).Days;

        Assert.Equal(2, days[^1].Flushes);
        Assert.Equal(Phase.Spent, days[^1].Phase);
        Assert.Single(Events(days), e => e.Event == AccountEvent.Spent);
    }

    [Theory]
    [InlineData(15, 80, 1, LimitingFactor.Moisture)] // nothing limits: ties go to moisture first
    [InlineData(23, 80, 0.5, LimitingFactor.Temperature)]
    [InlineData(15, 40, 0.25, LimitingFactor.Humidity)]
    [InlineData(15, 10, 0.1, LimitingFactor.Humidity)]
    public void The_score_is_the_product_of_its_factors_and_names_the_smallest(double mean, double humidity, double score, LimitingFactor limit)
    {
        var weather = Made.Same(1, mean: mean).ConvertAll(day => day with { Humidity = humidity });

        var day = Made.Run(Bed(s_none), weather).Days[0];

        Assert.Equal(100 * score, day.Suitability, 1e-9);
        Assert.Equal(limit, day.Limit);
    }

    private static Bed Bed(Triggers triggers) => Made.Bed() with
    {
        Species = s_wineCap with { Triggers = triggers, SpawnRun = s_wineCap.SpawnRun with { EarliestReadyDays = 0 } },
    };

    /// <summary>So many days at the practical lower limit, then moist again.</summary>
    private static LogEntry[] Dry(int from, int count) =>
        [new MoistureMeasured(Made.Day0.PlusDays(from), 0.01), new MoistureMeasured(Made.Day0.PlusDays(from + count), 0.55)];

    private static int? Triggered(Bed bed, params (int Day, double Rain)[] rains)
    {
        var weather = Made.Same(30);
        foreach (var (day, rain) in rains)
            weather[day] = weather[day] with { Rain = rain };
        return Day(Made.Run(bed, weather, s_run).Days, AccountEvent.Triggered);
    }

    private static int? TriggeredByCold(Bed bed, int day, double mean)
    {
        var weather = Made.Same(day + 1);
        weather[day] = Made.Weather(weather[day].Date, mean);
        return Day(Made.Run(bed, weather, s_run).Days, AccountEvent.Triggered);
    }

    private static IEnumerable<(int Day, AccountEvent Event)> Events(IReadOnlyList<AccountDay> days) =>
        days.Select((day, i) => (i, day.Event)).Where(e => e.Event != AccountEvent.None);

    private static int? Day(IReadOnlyList<AccountDay> days, AccountEvent happened) =>
        Events(days).Where(e => e.Event == happened).Select(e => (int?)e.Day).FirstOrDefault();
}
