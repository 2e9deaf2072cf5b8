using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

public class ToppingUpTests
{
    private static readonly LocalDate s_day5 = Made.Day0.PlusDays(5);
    private static readonly Material s_straw = Made.Catalogue.Materials["cereal-straw"];

    [Fact]
    public void Fresh_material_comes_wetted_in_the_morning_and_its_properties_count_by_depth()
    {
        var days = Made.Run(Made.Bed() with { Wetness = 0.8 }, Made.Same(8), new ToppedUp(s_day5, s_straw, 0.10)).Days;

        Assert.Equal((0.15, 0.25), (days[4].Depth, days[5].Depth));
        Assert.Equal(1000 * 0.10 * s_straw.ThetaCc, days[5].Filling, 1e-9);
        Assert.Equal(days[4].Water + days[5].Filling, days[5].Water, 1e-9);
        Assert.Equal(
            1000 * (0.15 * (Made.Chips.ThetaCc - Made.Chips.ThetaLow) + 0.10 * (s_straw.ThetaCc - s_straw.ThetaLow)), days[5].AvailableStore, 1e-9);
    }

    [Fact]
    public void Each_filling_ages_from_its_own_day()
    {
        var weather = Made.Same(371);
        var account = Made.Run(Made.Bed(), weather, new ToppedUp(s_day5, s_straw, 0.10));

        var years = 365 / 365.25;
        var straw = 0.10 * (1 - s_straw.Settling * (1 - Math.Exp(-3 * years))) * Math.Exp(-s_straw.Decay * years / 2);
        Assert.Equal(0.15 + straw, account.Days[370].Depth, 1e-12);
    }

    [Fact]
    public void A_layer_that_shrinks_gives_off_the_water_it_can_no_longer_hold()
    {
        // Straw loses half its depth in the year, under rain that keeps it dripping.
        var bed = Made.Bed(material: s_straw with { DrainDays = 1e6 }) with { Wetness = 5 };
        var days = Made.Run(bed, Made.Same(300)).Days;

        Assert.All(days.Skip(1), day => Assert.True(day.Filling < 0));
        Assert.All(days, day => Assert.Equal(0, day.Air, 1e-5));
    }

    [Fact]
    public void It_starts_the_count_of_flushes_that_a_filling_gives_anew_but_not_the_beds_own()
    {
        var once = Made.Chips with { FlushLife = 1 };
        LogEntry[] log = [new Picked(s_day5, 1), new ToppedUp(s_day5.PlusDays(6), once, 0.10)];

        var plain = Made.Run(Made.Bed(material: once), Made.Same(200, mean: 20), log[0]).Days;
        var toppedUp = Made.Run(Made.Bed(material: once), Made.Same(200, mean: 20), log).Days;

        Assert.Contains(plain, day => day.Event == AccountEvent.Spent);
        Assert.Contains(toppedUp, day => day.Event == AccountEvent.Ready);
        Assert.Equal(1, toppedUp[11].Flushes);
    }

    [Fact]
    public void A_spent_bed_rests_before_it_is_ready_again()
    {
        var days = Made.Run(
            Made.Bed(), Made.Same(100, mean: 20), new BedSpent(s_day5), new ToppedUp(s_day5.PlusDays(10), Made.Chips, 0.10)).Days;

        Assert.Equal((Phase.Spent, Phase.Resting), (days[14].Phase, days[15].Phase));
        Assert.Contains(days.Skip(15), day => day.Event == AccountEvent.Ready);
    }

    [Fact]
    public void The_first_flush_of_a_spent_bed_that_was_topped_up_is_a_new_one()
    {
        var once = Made.Chips with { FlushLife = 1 };
        var spent = Made.Run(Made.Bed(material: once), Made.Same(100, mean: 20), new Picked(s_day5, 1)).Days
            .First(day => day.Event == AccountEvent.Spent).Date;

        var days = Made.Run(
            Made.Bed(material: once),
            Made.Same(120, mean: 20),
            new Picked(s_day5, 1), new ToppedUp(spent.PlusDays(3), once, 0.10), new Picked(spent.PlusDays(8), 1)).Days;

        var at = Period.DaysBetween(Made.Day0, spent);
        Assert.Equal((Phase.Picking, 1), (days[at + 8].Phase, days[at + 8].Flushes));
        Assert.Equal((Phase.Resting, 2), (days[at + 13].Phase, days[at + 13].Flushes));
    }
}
