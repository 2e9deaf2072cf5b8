using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Tests.Catalogue;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Season;

/// <summary>A bed made on New Year's Day that was not picked within 12 months, and what the plan says of it.</summary>
public class FailureTests
{
    [Fact]
    public void A_spawn_that_the_heat_set_back_over_and_over() =>
        Assert.Equal(NoPickReason.HeatHarmedSpawn, Reason("wine-cap", day => Made.Weather(default, mean: day % 6 < 2 ? 50 : 25, rain: 3)));

    [Fact]
    public void A_spawn_that_was_too_cold_to_run() =>
        Assert.Equal(NoPickReason.SpawnRunNotDone, Reason("wine-cap", _ => Made.Weather(default, mean: 6)));

    [Fact]
    public void A_bed_younger_than_its_species_ever_fruits() =>
        Assert.Equal(NoPickReason.TooYoung, Reason(
            Of("wine-cap") with { SpawnRun = Of("wine-cap").SpawnRun with { EarliestReadyDays = 400 } }, _ => Made.Weather(default, mean: 20)));

    [Fact]
    public void A_bed_that_nobody_and_no_rain_soaked() =>
        Assert.Equal(NoPickReason.WaitedForSoak, Reason("wine-cap", _ => Made.Weather(default, mean: 15)));

    [Fact]
    public void A_bed_that_waited_for_frost() =>
        Assert.Equal(NoPickReason.WaitedForFrost, Reason("wood-blewit", _ => Made.Weather(default, mean: 17, rain: 3)));

    [Fact]
    public void A_bed_that_waited_for_a_fall_of_temperature() =>
        Assert.Equal(NoPickReason.WaitedForCooling, Reason("oyster-cold", _ => Made.Weather(default, mean: 18, rain: 3)));

    [Fact]
    public void A_bed_too_warm_to_pin() =>
        Assert.Equal(NoPickReason.TooWarmToPin, Reason("wine-cap", _ => Made.Weather(default, mean: 28, rain: 3)));

    [Fact]
    public void A_bed_too_cold_to_pin() =>
        Assert.Equal(NoPickReason.TooColdToPin, Reason("wine-cap", day => Made.Weather(default, mean: day < 31 ? 24 : 3, rain: day < 60 ? 0 : 3)));

    [Fact]
    public void A_bed_on_which_pinning_began_and_failed() =>
        Assert.Equal(NoPickReason.PinningFailed, Reason("wine-cap", day => Made.Weather(default, mean: day % 31 == 30 ? 10 : 33, rain: 3)));

    [Fact]
    public void A_flush_that_froze() =>
        Assert.Equal(NoPickReason.FlushLostToFrost, Reason("wine-cap", _ => Made.Weather(default, mean: 16, range: 34, rain: 3)));

    [Fact]
    public void A_flush_that_the_heat_ended() =>
        Assert.Equal(NoPickReason.FlushLostToHeat, Reason("wine-cap", day => Made.Weather(default, mean: day % 50 < 42 ? 33 : 15, rain: 3)));

    [Fact]
    public void A_flush_that_the_cold_ended() =>
        Assert.Equal(NoPickReason.FlushLostToCold, Reason(
            Slow("wine-cap"), day => Made.Weather(default, mean: day < 60 ? 18 : 3, range: 2, rain: 3)));

    /// <summary>Five centimetres of straw in weather that takes all their water every day.</summary>
    [Fact]
    public void A_flush_that_dried_up() =>
        Assert.Equal(NoPickReason.FlushLostToDrought, Reason(
            Slow("oyster-golden"), day => Made.Weather(default, mean: 20, rain: day < 50 ? 3 : 0, et0: day < 50 ? 0 : 15), new BedPattern { Depth = 0.05 }));

    /// <summary>No material of the catalogue holds so much water for so long; a grower's own may.</summary>
    [Fact]
    public void A_flush_that_drowned()
    {
        var json = OwnCatalogue.Json.Replace("\"drain_days\": { \"value\": 0.35", "\"drain_days\": { \"value\": 20", StringComparison.Ordinal);
        var own = Made.Catalogue.With(BedCatalogue.Parse(json));
        Assert.Equal(20, own.Materials["alder-chips"].DrainDays);

        Assert.Equal(NoPickReason.FlushLostToWet, Reason(
            Slow("wine-cap"), day => Made.Weather(default, mean: 18, rain: day < 60 ? 3 : 400), new BedPattern { Material = "alder-chips" }, own));
    }

    [Fact]
    public void A_flush_that_was_still_growing_on_the_last_day() =>
        Assert.Equal(NoPickReason.OnItsWay, Reason(
            Slow("wine-cap"), _ => Made.Weather(default, mean: 15, rain: 3)));

    [Fact]
    public void A_bed_that_was_picked_has_no_reason() =>
        Assert.Null(Reason("wine-cap", _ => Made.Weather(default, mean: 18, rain: 3)));

    private static Species Of(string species) => Made.Catalogue.Species[species];

    /// <summary>Its pins never come to a pick, so that there is time for things to happen to them.</summary>
    private static Species Slow(string species) => Of(species) with { Growing = Of(species).Growing with { Days = 1000 } };

    private static NoPickReason? Reason(string species, Func<int, WeatherDay> day) => Reason(Of(species), day);

    private static NoPickReason? Reason(Species species, Func<int, WeatherDay> day, BedPattern? pattern = null, BedCatalogue? catalogue = null)
    {
        var plan = SeasonPlanner.Plan(Planned.Days(day), Made.AsGiven, [species], pattern ?? new BedPattern(), catalogue ?? Made.Catalogue);
        var week = plan.Species[0].Weeks[0];
        var run = Assert.Single(week.Runs);
        Assert.Equal(run.Failure is null ? 0 : 1, week.Failures.Values.Sum());
        Assert.Equal(run.Picked, week.Picked == 1);
        return run.Failure;
    }
}
