using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

/// <summary>What each kind of entry does to the account, and when.</summary>
public class LogEntryTests
{
    private static readonly LocalDate s_day5 = Made.Day0.PlusDays(5);

    [Fact]
    public void Water_given_goes_to_the_layer_on_its_day_past_mulch_and_cover()
    {
        var bed = Made.Bed() with { Wetness = 0.5, Cover = Cover.Sheet, MulchCm = 5, Mulch = Made.Catalogue.Materials["cereal-straw"] };

        var account = Made.Run(bed, Made.Same(8), new WaterGiven(s_day5, 4), new WaterGiven(s_day5, 3));

        Assert.Equal([0, 7, 0], account.Days.Skip(4).Take(3).Select(day => day.Given));
        Assert.Equal(account.Days[4].Water + 7, account.Days[5].Water, 1e-9);
        Assert.Equal(0, account.Days[5].MulchWater);
    }

    [Fact]
    public void A_gauge_reading_takes_the_place_of_the_days_rain_and_the_last_of_two_counts()
    {
        var account = Made.Run(
            Made.Bed() with { Wetness = 0.5 },
            Made.Same(8, rain: 2),
            new GaugeReading(s_day5, 9) { Time = new LocalTime(18, 0) },
            new GaugeReading(s_day5, 6) { Time = new LocalTime(8, 0) });

        Assert.Equal([2, 9, 2], account.Days.Skip(4).Take(3).Select(day => day.Rain));
    }

    [Fact]
    public void A_gauge_stands_outside_so_its_reading_meets_cover_and_trees_too()
    {
        var bed = Made.Bed() with { Cover = Cover.PiercedSheet, Throughfall = 0.5 };

        Assert.Equal(10 * 0.3 * 0.5, Made.Run(bed, Made.Same(6), new GaugeReading(s_day5, 10)).Days[5].Rain, 1e-12);
    }

    [Fact]
    public void A_gauge_that_read_nothing_makes_a_rainy_day_dry() =>
        Assert.Equal(0, Made.Run(Made.Bed(), Made.Same(6, rain: 8), new GaugeReading(s_day5, 0)).Days[5].Rain);

    [Theory]
    [InlineData(Squeeze.Crumbles, 0.2)]
    [InlineData(Squeeze.Right, 0.8)]
    [InlineData(Squeeze.Dripping, 1.3)]
    public void A_squeeze_test_sets_the_moisture_at_the_end_of_its_day(Squeeze result, double moisture)
    {
        var days = Made.Run(Made.Bed(), Made.Same(7, et0: 3), new SqueezeTest(s_day5, result)).Days;

        Assert.Equal(moisture, days[5].Moisture, 1e-12);
        Assert.Equal(days[5].Water - days[4].Water + days[5].Evaporated, days[5].Corrected, 1e-9);
        Assert.NotEqual(moisture, days[6].Moisture);
    }

    [Fact]
    public void A_measured_moisture_is_met_wet_basis()
    {
        var days = Made.Run(Made.Bed(), Made.Same(6), new MoistureMeasured(s_day5, 0.55)).Days;

        Assert.Equal(0.55, days[5].WetBasis, 1e-12);
    }

    [Theory]
    [InlineData(0.01, 0)]
    [InlineData(0.99, 0.87 - 0.1)]
    public void A_moisture_that_the_material_cannot_have_stops_at_its_limits(double wetBasis, double aboveLow)
    {
        var day = Made.Run(Made.Bed(), Made.Same(6), new MoistureMeasured(s_day5, wetBasis)).Days[5];

        Assert.Equal(aboveLow / 0.2, day.Moisture, 1e-12);
    }

    [Fact]
    public void Of_two_readings_on_a_day_the_later_counts()
    {
        SqueezeTest morning = new(s_day5, Squeeze.Crumbles) { Time = new LocalTime(8, 0) };
        SqueezeTest evening = new(s_day5, Squeeze.Right) { Time = new LocalTime(20, 0) };

        Assert.Equal(0.8, Made.Run(Made.Bed(), Made.Same(6), evening, morning).Days[5].Moisture, 1e-12);
        Assert.Equal(
            0.2, Made.Run(Made.Bed(), Made.Same(6), evening with { Time = LocalTime.Noon }, morning with { Time = LocalTime.Noon }).Days[5].Moisture, 1e-12);
    }

    [Fact]
    public void A_cover_counts_from_its_day_until_it_is_taken_off()
    {
        var days = Made.Run(
            Made.Bed(), Made.Same(12, rain: 10), new CoverChanged(s_day5.PlusDays(3), Cover.None), new CoverChanged(s_day5, Cover.Sheet)).Days;

        Assert.Equal([10, 0.5, 0.5, 0.5, 10, 10], days.Skip(4).Take(6).Select(day => day.Rain));
    }

    [Fact]
    public void Mycelium_seen_lifts_the_spawn_run_and_never_lowers_it()
    {
        var days = Made.Run(
            Made.Bed(), Made.Same(12), new MyceliumSeen(s_day5, 0.6), new MyceliumSeen(s_day5.PlusDays(3), 0.1)).Days;

        Assert.True(days[4].SpawnRun < 0.3);
        Assert.Equal(0.6, days[5].SpawnRun);
        Assert.True(days[8].SpawnRun > 0.6);
        Assert.Equal(Phase.SpawnRun, days[11].Phase);
    }

    [Fact]
    public void Pins_seen_put_the_bed_into_growing_from_the_end_of_the_day_even_in_its_spawn_run()
    {
        var days = Made.Run(Made.Bed(), Made.Same(40), new PinsSeen(s_day5)).Days;

        Assert.Equal((Phase.SpawnRun, Phase.Growing), (days[4].Phase, days[5].Phase));
        Assert.Equal((AccountEvent.Pins, 0.0), (days[5].Event, days[5].Progress));
        // Eight days at the best temperature and moisture.
        Assert.Equal((AccountEvent.Harvest, Phase.Picking), (days[13].Event, days[13].Phase));
    }

    [Fact]
    public void Frost_counts_from_the_day_after_pins_were_seen_in_the_spawn_run()
    {
        var days = Made.Run(Made.Bed("wood-blewit"), Made.Same(10, mean: 3), new PinsSeen(s_day5)).Days;

        Assert.Equal([0, 0, 1, 2], days.Skip(4).Take(4).Select(day => day.FrostNights));
    }

    [Fact]
    public void Picked_puts_the_bed_into_picking_and_the_flush_ends_by_itself()
    {
        var days = Made.Run(Made.Bed(), Made.Same(20), new Picked(s_day5, 1.2)).Days;

        Assert.Equal((Phase.Picking, AccountEvent.Harvest, 0), (days[5].Phase, days[5].Event, days[5].Flushes));
        Assert.Equal((Phase.Resting, AccountEvent.FlushOver, 1), (days[10].Phase, days[10].Event, days[10].Flushes));
    }

    [Fact]
    public void Picked_while_the_model_already_rests_is_the_same_flush()
    {
        var days = Made.Run(Made.Bed(), Made.Same(25), new Picked(s_day5, 1), new Picked(s_day5.PlusDays(7), 0.3)).Days;

        Assert.Equal((Phase.Resting, 1), (days[11].Phase, days[11].Flushes));
        Assert.Equal((Phase.Picking, 0), (days[12].Phase, days[12].Flushes));
        Assert.Equal((Phase.Resting, 1), (days[17].Phase, days[17].Flushes));
    }

    [Fact]
    public void Picked_again_while_picking_changes_nothing() =>
        Assert.Equal(
            Made.Run(Made.Bed(), Made.Same(20), new Picked(s_day5, 1)).Days,
            Made.Run(Made.Bed(), Made.Same(20), new Picked(s_day5, 1), new Picked(s_day5.PlusDays(2), 2)).Days);

    [Fact]
    public void A_flush_that_was_lost_to_frost_and_picked_after_all_counts_once()
    {
        var weather = Made.Same(25);
        weather[8] = Made.Weather(weather[8].Date, mean: 0);

        var days = Made.Run(Made.Bed(), weather, new PinsSeen(s_day5), new Picked(s_day5.PlusDays(5), 0.2)).Days;

        Assert.Equal((AccountEvent.FlushLost, Phase.Resting, 0), (days[8].Event, days[8].Phase, days[8].Flushes));
        Assert.Equal((Phase.Picking, 0), (days[10].Phase, days[10].Flushes));
        Assert.Equal((Phase.Resting, 1), (days[15].Phase, days[15].Flushes));
    }

    [Fact]
    public void A_flush_that_the_grower_calls_over_counts_and_rests()
    {
        var days = Made.Run(Made.Bed(), Made.Same(12), new Picked(s_day5, 1), new FlushOver(s_day5.PlusDays(2)), new FlushOver(s_day5.PlusDays(3))).Days;

        Assert.Equal((Phase.Resting, AccountEvent.FlushOver, 1), (days[7].Phase, days[7].Event, days[7].Flushes));
        Assert.Equal((Phase.Resting, AccountEvent.None, 1), (days[8].Phase, days[8].Event, days[8].Flushes));
    }

    [Fact]
    public void Two_state_entries_on_a_day_act_in_the_order_of_their_times()
    {
        PinsSeen pins = new(s_day5) { Time = new LocalTime(7, 0) };
        Picked picked = new(s_day5, 1) { Time = new LocalTime(19, 0) };

        Assert.Equal(Phase.Picking, Made.Run(Made.Bed(), Made.Same(6), picked, pins).Days[5].Phase);
        Assert.Equal(
            Phase.Growing,
            Made.Run(Made.Bed(), Made.Same(6), picked with { Time = new LocalTime(6, 0) }, pins).Days[5].Phase);
    }

    [Fact]
    public void Contamination_and_spawn_taken_are_noted_and_change_nothing() =>
        Assert.Equal(
            Made.Run(Made.Bed(), Made.Same(20)).Days,
            Made.Run(Made.Bed(), Made.Same(20), new ContaminationSeen(s_day5), new SpawnTaken(s_day5)).Days);

    [Fact]
    public void A_bed_given_up_is_spent_and_stays_so()
    {
        var days = Made.Run(Made.Bed(), Made.Same(80, rain: 4), new MyceliumSeen(s_day5, 1), new BedSpent(s_day5.PlusDays(1))).Days;

        Assert.Equal((Phase.Spent, AccountEvent.Spent), (days[6].Phase, days[6].Event));
        Assert.All(days.Skip(6), day => Assert.Equal(Phase.Spent, day.Phase));
    }

    [Fact]
    public void Entries_after_the_last_day_wait() =>
        Assert.Equal(Made.Run(Made.Bed(), Made.Same(20)).Days, Made.Run(Made.Bed(), Made.Same(20), new WaterGiven(Made.Day0.PlusDays(20), 9)).Days);

    [Fact]
    public void An_entry_from_before_the_inoculation_is_refused_with_its_day() =>
        Assert.Contains(
            "WaterGiven of 2025-04-09",
            Assert.Throws<ArgumentException>(() => Made.Run(Made.Bed(), Made.Same(5), new WaterGiven(Made.Day0.PlusDays(-1), 5))).Message,
            StringComparison.Ordinal);
}
