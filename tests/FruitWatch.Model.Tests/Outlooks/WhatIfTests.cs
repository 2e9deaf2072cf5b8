using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Model.Tests.Outlooks;

public class WhatIfTests
{
    private static readonly LocalDate s_by = new(2026, 10, 14);

    [Theory]
    [InlineData(14, 39, true, false)]
    [InlineData(39, 14, false, true)]
    [InlineData(20, 21, false, false)]
    public void More_futures_with_pins_are_better(int alone, int acted, bool better, bool worse)
    {
        var whatIf = new WhatIf(WhatCounts.Pins, s_by, 64, alone, acted, 3, 3);

        Assert.Equal((better, worse), (whatIf.ActingIsBetter, whatIf.ActingIsWorse));
    }

    [Theory]
    [InlineData(3, 1, true)]
    [InlineData(3, 2.9, false)]
    public void Where_the_chance_is_even_fewer_bad_days_are_better(double alone, double acted, bool better) =>
        Assert.Equal(better, new WhatIf(WhatCounts.Pins, s_by, 64, 20, 20, alone, acted).ActingIsBetter);

    [Fact]
    public void Fewer_bad_days_do_not_outweigh_a_smaller_chance() =>
        Assert.False(new WhatIf(WhatCounts.Harvest, s_by, 64, 30, 20, 9, 1).ActingIsBetter);

    [Fact]
    public void While_the_spawn_runs_only_the_bad_days_count()
    {
        // The chance of falling dry at all is no worse for a bed that is dry for a day more.
        Assert.True(new WhatIf(WhatCounts.Moisture, s_by, 64, 64, 64, 8, 2).ActingIsBetter);
        Assert.True(new WhatIf(WhatCounts.Moisture, s_by, 64, 10, 10, 2, 8).ActingIsWorse);
    }
}
