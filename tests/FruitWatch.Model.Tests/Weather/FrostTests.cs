using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Weather;

/// <summary>Frost advisory, freeze classes and hard freeze warning as the United States print them, in whole °F.</summary>
public class FrostTests
{
    [Theory]
    [InlineData(40, 37, FrostClass.None)]
    [InlineData(36, 33, FrostClass.Possible)]
    [InlineData(32, 29, FrostClass.Light)]
    [InlineData(28, 25, FrostClass.Moderate)]
    [InlineData(24, -10, FrostClass.Severe)]
    public void Whole_degrees_Fahrenheit_fall_into_the_printed_class(int from, int to, FrostClass expected)
    {
        for (var fahrenheit = from; fahrenheit >= to; fahrenheit--)
            Assert.Equal(expected, Frost.Of((fahrenheit - 32) / 1.8));
    }

    [Theory]
    [InlineData(2.2, FrostClass.Possible)]
    [InlineData(0.6, FrostClass.Possible)]
    [InlineData(0, FrostClass.Light)]
    [InlineData(-1.7, FrostClass.Light)]
    [InlineData(-2.2, FrostClass.Moderate)]
    [InlineData(-3.9, FrostClass.Moderate)]
    [InlineData(-4.4, FrostClass.Severe)]
    public void Printed_degrees_Celsius_fall_into_the_printed_class(double tmin, FrostClass expected) =>
        Assert.Equal(expected, Frost.Of(tmin));

    [Theory]
    [InlineData(2.3, FrostClass.None)]
    [InlineData(0.3, FrostClass.Possible)]
    [InlineData(-1.8, FrostClass.Light)]
    [InlineData(-1.9, FrostClass.Moderate)]
    [InlineData(-4.1, FrostClass.Moderate)]
    [InlineData(-4.2, FrostClass.Severe)]
    public void Tenths_between_the_printed_classes_have_a_class(double tmin, FrostClass expected) =>
        Assert.Equal(expected, Frost.Of(tmin));

    [Theory]
    [InlineData(28, true)]
    [InlineData(29, false)]
    [InlineData(10, true)]
    public void A_hard_freeze_starts_at_28_Fahrenheit(int fahrenheit, bool expected) =>
        Assert.Equal(expected, Frost.IsHardFreeze((fahrenheit - 32) / 1.8));

    [Fact]
    public void Every_hard_freeze_is_at_least_moderate()
    {
        for (var tenths = -400; tenths <= 100; tenths++)
            Assert.True(!Frost.IsHardFreeze(tenths / 10.0) || Frost.Of(tenths / 10.0) >= FrostClass.Moderate);
    }
}
