using CsCheck;
using FruitWatch.Model.Verification;
using MathNet.Numerics.Distributions;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>Against Math.NET Numerics 5.0.0.</summary>
public class GaussianTests
{
    [Fact]
    public void Density_and_distribution_are_those_of_the_library() => Gen.Double[-12, 12].Sample(z =>
    {
        Assert.Equal(Normal.PDF(0, 1, z), Gaussian.Density(z), 1e-15);
        Assert.Equal(Normal.CDF(0, 1, z), Gaussian.Cumulative(z), 2e-15);
    });

    [Fact]
    public void Quantiles_are_those_of_the_library() => Gen.Double[1e-6, 1 - 1e-6].Sample(p =>
        Assert.Equal(Normal.InvCDF(0, 1, p), Gaussian.Quantile(p), 1e-9));

    [Theory]
    [InlineData(0.5, 0)]
    [InlineData(0.975, 1.959963984540054)]
    [InlineData(0.995, 2.575829303548901)]
    public void Quantiles_are_those_of_the_printed_tables(double p, double z)
    {
        Assert.Equal(z, Gaussian.Quantile(p), 1e-12); // e.g. Abramowitz and Stegun 1964, table 26.6
        Assert.Equal(-z, Gaussian.Quantile(1 - p), 1e-12);
    }

    [Fact]
    public void The_furthest_quantile_that_a_number_can_ask_for_is_finite() =>
        Assert.InRange(Gaussian.Quantile(Math.BitDecrement(1.0)), 8, 8.5);

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(double.NaN)]
    public void Infinite_quantiles_are_refused(double p) => Assert.Throws<ArgumentOutOfRangeException>(() => Gaussian.Quantile(p));

    [Fact]
    public void What_is_not_a_number_has_no_place_in_it() => Assert.Throws<ArgumentOutOfRangeException>(() => Gaussian.Cumulative(double.NaN));
}
