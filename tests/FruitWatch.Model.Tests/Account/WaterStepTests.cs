using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;

namespace FruitWatch.Model.Tests.Account;

/// <summary>One day's water, worked by hand on 15 cm of chips: 15 mm at the lower limit, 45 at capacity, 130.5 when full of water.</summary>
public class WaterStepTests
{
    [Fact]
    public void A_bed_starts_at_container_capacity_or_as_wet_as_it_was_laid()
    {
        Assert.Equal(45, Day(Made.Bed()).Water, 1e-9);
        Assert.Equal(36, Day(Made.Bed() with { Wetness = 0.8 }).Water, 1e-9);
    }

    [Fact]
    public void Laid_bone_dry_it_starts_at_the_practical_lower_limit() =>
        Assert.Equal((15.0, 0.0), Rounded(Day(Made.Bed() with { Wetness = 0 })));

    [Fact]
    public void Laid_wetter_than_it_can_be_it_loses_the_rest_on_the_first_day()
    {
        var day = Day(Made.Bed() with { Wetness = 3 });

        Assert.Equal(130.5 - 135, day.Filling, 1e-9);
        Assert.Equal((130.5 - 45) * (1 - Math.Exp(-1 / 0.35)), day.Drained, 1e-9);
    }

    [Fact]
    public void Rain_is_absorbed_whole_while_the_chips_are_moist()
    {
        var day = Day(Made.Bed() with { Wetness = 0.5 }, rain: 10);

        Assert.Equal((32.5, 10.0, 0.0), (day.Water, day.Inflow, day.PassedThrough));
    }

    [Theory]
    [InlineData(17.9 / 45, 6, 4)] // below 18 mm, a tenth of the way from the lower limit to capacity
    [InlineData(18.1 / 45, 10, 0)]
    public void Dry_chips_shed_four_tenths_of_what_falls(double wetness, double absorbed, double shed)
    {
        var day = Day(Made.Bed() with { Wetness = wetness }, rain: 10);

        Assert.Equal(45 * wetness + absorbed, day.Water, 1e-9);
        Assert.Equal(shed, day.PassedThrough, 1e-9);
    }

    [Fact]
    public void What_is_above_capacity_drains_by_the_materials_time()
    {
        var day = Day(Made.Bed(), rain: 20);

        Assert.Equal(20 * (1 - Math.Exp(-1 / 0.35)), day.Drained, 1e-9);
        Assert.Equal(45 + 20 * Math.Exp(-1 / 0.35), day.Water, 1e-9);
    }

    [Fact]
    public void What_a_full_bed_cannot_hold_passes_through()
    {
        var day = Day(Made.Bed(), rain: 200);

        Assert.Equal(200 - (130.5 - 45), day.PassedThrough, 1e-9);
    }

    [Theory]
    [InlineData(1, 4)]
    [InlineData(33.0 / 45, 4)] // 0.6 of the way up: the second stage starts below
    [InlineData(24.0 / 45, 2)]
    [InlineData(15.0 / 45, 0)]
    public void Evaporation_keeps_up_with_the_air_and_then_falls_with_the_moisture(double wetness, double evaporated) =>
        Assert.Equal(evaporated, Day(Made.Bed() with { Wetness = wetness }, et0: 4).Evaporated, 1e-9);

    [Fact]
    public void Evaporation_never_dries_it_below_the_practical_lower_limit()
    {
        var thin = Made.Bed(depth: 0.02) with { EvaporationMultiplier = 3 };

        Assert.Equal((2.0, 0.0), Rounded(Made.Run(thin, Made.Same(5, et0: 9)).Days[^1]));
    }

    /// <summary>A worked example: reference 4 mm/d, 15 % of the open sky's radiation, 5 cm of mulch, chips at capacity: 1.10 mm/d.</summary>
    [Fact]
    public void Shade_and_mulch_slow_it_as_in_the_worked_example()
    {
        var bed = Made.Bed() with { Shade = 0.85, MulchCm = 5, Mulch = Made.Catalogue.Materials["cereal-straw"] };

        Assert.Equal(1.10, Day(bed, et0: 4).Evaporated, 0.005);
        Assert.Equal(0.11, Day(bed with { MulchCm = 0, Cover = Cover.Sheet }, et0: 4).Evaporated, 0.005);
        Assert.Equal(4, Day(Made.Bed(), et0: 4).Evaporated, 1e-9);
    }

    [Theory]
    [InlineData(0.9, 0)]
    [InlineData(1, 0.24)]
    [InlineData(5, 0.32)]
    [InlineData(14, 0.50)]
    [InlineData(30, 0.50)]
    public void Mulch_keeps_vapour_in_by_its_depth_up_to_half(double cm, double kept) =>
        Assert.Equal(4 * (1 - kept), Day(Made.Bed() with { MulchCm = cm, Mulch = Made.Catalogue.Materials["cereal-straw"] }, et0: 4).Evaporated, 1e-9);

    [Fact]
    public void Mulch_takes_its_fill_of_rain_first_and_dries_first()
    {
        var straw = Made.Catalogue.Materials["cereal-straw"];
        var full = straw.MulchStorePerCm * 5;
        var bed = Made.Bed() with { Wetness = 0.9, MulchCm = 5, Mulch = straw };
        var weather = Made.Same(2, et0: 1);
        weather[0] = weather[0] with { Rain = full + 2, FeedEvapotranspiration = 0 };

        var days = Made.Run(bed, weather).Days;

        Assert.Equal((full, 2.0), (days[0].RainToMulch, days[0].Inflow), (a, b) => Math.Abs(a.Item1 - b.Item1) + Math.Abs(a.Item2 - b.Item2) < 1e-9);
        Assert.Equal(1, days[1].EvaporatedFromMulch, 1e-9);
        Assert.Equal(full - 1, days[1].MulchWater, 1e-9);
        Assert.Equal(0, days[1].Evaporated, 1e-9);
    }

    [Fact]
    public void Moisture_suits_from_a_tenth_to_nearly_half_and_until_air_runs_short()
    {
        // w 0.10 and 0.45 on the dry side; on the wet side air 0.15 and 0.05 of the volume.
        Assert.Equal(0, Suits(0.10), 1e-9);
        Assert.Equal(0.5, Suits(0.275), 1e-9);
        Assert.Equal(1, Suits(0.45), 1e-9);
        Assert.Equal(1, Suits((0.87 - 0.15 - 0.10) / 0.20), 1e-9);
        Assert.Equal(0.5, Suits((0.87 - 0.10 - 0.10) / 0.20), 1e-9);
        Assert.Equal(0, Suits((0.87 - 0.05 - 0.10) / 0.20), 1e-9);
    }

    private static double Suits(double w)
    {
        var wetBasis = (15 + 30 * w) / (15 + 30 * w + 190 * 0.15);
        var day = Made.Run(Made.Bed(), Made.Same(1), new MoistureMeasured(Made.Day0, wetBasis)).Days[0];
        Assert.Equal(w, day.Moisture, 1e-9);
        return day.MoistureFactor;
    }

    private static (double Water, double Moisture) Rounded(AccountDay day) => (Math.Round(day.Water, 9), Math.Round(day.Moisture, 9));

    private static AccountDay Day(Bed bed, double rain = 0, double et0 = 0) => Made.Run(bed, Made.Same(1, rain: rain, et0: et0)).Days[0];
}
