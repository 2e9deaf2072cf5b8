using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Tests.Account;

public class SpawnRunTests
{
    private static readonly Species s_wineCap = Made.Catalogue.Species["wine-cap"];

    [Fact]
    public void At_the_best_temperature_and_moisture_it_takes_the_species_days()
    {
        var day = Made.Run(Made.Bed(), Made.Same(5, mean: s_wineCap.SpawnRun.TOpt)).Days[4];

        Assert.Equal(5 / s_wineCap.SpawnRun.DaysAtOptimum, day.SpawnRun, 1e-9);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(4, 1.5)] // twice as fast by the root, held at 1.5
    [InlineData(0.64, 0.8)]
    [InlineData(0.01, 0.5)]
    public void More_spawn_runs_faster_by_the_root_of_the_rate_within_limits(double rate, double speed)
    {
        var bed = Made.Bed() with { SpawnRate = rate * s_wineCap.SpawnRun.SpawnRate };

        Assert.Equal(speed / s_wineCap.SpawnRun.DaysAtOptimum, Made.Run(bed, Made.Same(1, mean: s_wineCap.SpawnRun.TOpt)).Days[0].SpawnRun, 1e-9);
    }

    [Fact]
    public void A_learned_multiplier_speeds_it_up() =>
        Assert.Equal(
            1.4 / s_wineCap.SpawnRun.DaysAtOptimum,
            Made.Run(Made.Bed() with { GrowthMultiplier = 1.4 }, Made.Same(1, mean: s_wineCap.SpawnRun.TOpt)).Days[0].SpawnRun,
            1e-9);

    [Fact]
    public void It_stands_still_in_the_cold_and_in_a_dry_bed()
    {
        Assert.Equal(0, Made.Run(Made.Bed(), Made.Same(30, mean: s_wineCap.SpawnRun.TBase)).Days[^1].SpawnRun, 1e-12);
        Assert.Equal(0, Made.Run(Made.Bed() with { Wetness = 0 }, Made.Same(30, mean: 20)).Days[^1].SpawnRun, 1e-12);
    }

    [Fact]
    public void A_day_of_harmful_heat_takes_a_tenth_back_and_is_told()
    {
        var hot = s_wineCap.SpawnRun.TCeiling + 1;
        var days = Made.Run(Made.Bed(), Made.Same(4, mean: hot), new MyceliumSeen(Made.Day0, 0.25)).Days;

        Assert.Equal([0.25, 0.15, 0.05, 0], days.Select(day => Math.Round(day.SpawnRun, 9)));
        Assert.All(days, day => Assert.Equal(AccountEvent.HeatDamage, day.Event));
    }

    [Fact]
    public void Run_through_early_it_is_ready_on_the_species_earliest_day()
    {
        var days = Made.Run(Made.Bed(), Made.Same(40), new MyceliumSeen(Made.Day0, 1)).Days;

        Assert.Equal((Phase.SpawnRun, AccountEvent.None), (days[29].Phase, days[29].Event));
        Assert.Equal((Phase.Ready, AccountEvent.Colonised), (days[30].Phase, days[30].Event));
    }
}
