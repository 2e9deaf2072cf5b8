using System.Numerics;
using CsCheck;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Responses;

namespace FruitWatch.Model.Tests.Responses;

public class TrapezoidTests
{
    private static readonly Trapezoid s_band = new(new Band(6, 10, 20, 26));

    [Theory]
    [InlineData(-5, 0)]
    [InlineData(6, 0)]
    [InlineData(7, 0.25)]
    [InlineData(8, 0.5)]
    [InlineData(10, 1)]
    [InlineData(15, 1)]
    [InlineData(20, 1)]
    [InlineData(23, 0.5)]
    [InlineData(26, 0)]
    [InlineData(40, 0)]
    public void Is_full_over_the_band_and_falls_off_in_straight_lines(double t, double expected)
    {
        Assert.Equal(expected, s_band.At(t), 1e-15);
        Assert.Equal(expected, s_band.At(new Vector<double>(t))[0], 1e-15);
    }

    [Fact]
    public void A_band_without_slopes_is_full_between_its_ends_and_nothing_at_them()
    {
        var box = new Trapezoid(new Band(10, 10, 20, 20));

        Assert.Equal([0, 1, 1, 0], new double[] { 10, 10.001, 19.999, 20 }.Select(box.At));
        Assert.Equal([0, 1, 1, 0], new double[] { 10, 10.001, 19.999, 20 }.Select(t => box.At(new Vector<double>(t))[0]));
    }

    [Fact]
    public void Many_at_once_agree_with_one_at_a_time() =>
        Gen.Select(Gen.Double[-5, 15], Gen.Double[0, 10].Array[3], Gen.Double[-20, 60].Array[Vector<double>.Count])
            .Sample((first, steps, temperatures) =>
            {
                var band = new Trapezoid(new Band(first, first + steps[0], first + steps[0] + steps[1], first + steps.Sum()));
                var together = band.At(new Vector<double>(temperatures));
                return temperatures.Select((t, lane) => Math.Abs(together[lane] - band.At(t))).Max() <= 1e-12;
            });
}
