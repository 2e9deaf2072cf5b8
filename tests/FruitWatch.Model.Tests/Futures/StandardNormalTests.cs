using CsCheck;
using FruitWatch.Model.Futures;
using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace FruitWatch.Model.Tests.Futures;

/// <summary>Against Math.NET Numerics 5.0.0.</summary>
public class StandardNormalTests
{
    [Fact]
    public void Quantiles_are_those_of_the_library() => Gen.Double[1e-6, 1 - 1e-6].Sample(p =>
        Assert.Equal(Normal.InvCDF(0, 1, p), StandardNormal.Quantile(p), 1e-9));

    [Fact]
    public void Density_and_distribution_are_those_of_the_library() => Gen.Double[-12, 12].Sample(z =>
    {
        Assert.Equal(Normal.PDF(0, 1, z), StandardNormal.Density(z), 1e-15);
        Assert.Equal(Normal.CDF(0, 1, z), StandardNormal.Below(z), 2e-15);
    });

    [Theory]
    [InlineData(0.5, 0)]
    [InlineData(0.975, 1.959963984540054)]
    [InlineData(0.995, 2.575829303548901)]
    public void Quantiles_are_those_of_the_printed_tables(double p, double z)
    {
        Assert.Equal(z, StandardNormal.Quantile(p), 1e-12); // e.g. Abramowitz and Stegun 1964, table 26.6
        Assert.Equal(-z, StandardNormal.Quantile(1 - p), 1e-12);
    }

    [Fact]
    public void The_furthest_quantile_that_a_number_can_ask_for_is_finite() =>
        Assert.InRange(StandardNormal.Quantile(Math.BitDecrement(1.0)), 8, 8.5);

    [Fact]
    public void What_is_not_a_number_has_no_place_in_it() => Assert.Throws<ArgumentOutOfRangeException>(() => StandardNormal.Below(double.NaN));

    /// <summary>Wichura 1988, table of checks for PPND16.</summary>
    [Theory]
    [InlineData(0.25, -0.6744897501960817)]
    [InlineData(0.001, -3.090232306167814)]
    [InlineData(1e-20, -9.262340089798408)]
    public void Quantiles_are_those_of_the_paper(double p, double z) => Assert.Equal(z, StandardNormal.Quantile(p), 1e-14);

    [Fact]
    public void What_lies_above_a_quantile_is_the_rest() => Gen.Double[1e-12, 0.5].Sample(p =>
    {
        Assert.Equal(1, StandardNormal.Above(-StandardNormal.Quantile(p)) / p, 1e-8);
        Assert.Equal(-StandardNormal.Quantile(p), StandardNormal.Quantile(1 - p), 1e-3);
    });

    [Fact]
    public void Tails_are_those_of_the_library_however_small() => Gen.Double[-30, 30].Sample(z =>
        Assert.Equal(1, StandardNormal.Above(z) / (0.5 * SpecialFunctions.Erfc(z / Math.Sqrt(2))), 1e-8));

    [Fact]
    public void Between_two_values_far_out_nothing_is_lost_on_either_side()
    {
        Assert.Equal(1, StandardNormal.Between(9, 9.1) / StandardNormal.Between(-9.1, -9), 1e-12);
        Assert.InRange(StandardNormal.Between(9, 9.1), 1e-20, 1e-18);
        Assert.Equal(0.6826894921370859, StandardNormal.Between(-1, 1), 1e-14);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(double.NaN)]
    public void The_quantiles_of_never_and_always_are_refused(double p) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => StandardNormal.Quantile(p));
}
