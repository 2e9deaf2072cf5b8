using FruitWatch.Service.Log;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Tests.Text;

/// <summary>Measures in the units of whoever reads. Factors: NIST SP 811 (2008), appendix B.8.</summary>
public sealed class UnitsTests
{
    private static readonly Words s_us = Words.For("en", Units.UsCustomary);

    [Theory]
    [InlineData(0, "32\u00a0°F")]
    [InlineData(-17.6, "0\u00a0°F")]
    [InlineData(-40, "-40\u00a0°F")]
    [InlineData(21.4, "71\u00a0°F")] // 70.52 °F; rounded before it is converted it would be 70
    public void A_temperature_is_converted_first_and_rounded_once(double celsius, string said) => Assert.Equal(said, s_us.Temperature(celsius));

    [Fact]
    public void Water_ground_and_rain_are_said_in_gallons_feet_and_inches()
    {
        Assert.Equal("5.3 gallons", s_us.Volume(20));
        Assert.Equal("1 gallon", s_us.Volume(3.8));
        Assert.Equal("53 gallons", s_us.Volume(200));
        Assert.Equal("0.16\u00a0in", s_us.WaterDepth(4));
        Assert.Equal("1.2\u00a0in", s_us.WaterDepth(30));
        Assert.Equal("65\u00a0sq\u00a0ft", s_us.Area(6));
        Assert.Equal("4.9\u00a0gal per 100\u00a0sq\u00a0ft", s_us.WaterPerArea(2));
        Assert.Equal("5,3 galones", Words.For("es", Units.UsCustomary).Volume(20));
        Assert.Equal("20 litres", Words.For("en").Volume(20));
    }

    /// <summary>The whole of the range, a tenth at a time, in both languages: what is typed is what is shown again.</summary>
    [Theory]
    [InlineData(LogKinds.Watered)]
    [InlineData(LogKinds.Gauge)]
    [InlineData(LogKinds.Picked)]
    [InlineData(LogKinds.ToppedUp)]
    public void What_is_typed_in_US_units_is_kept_in_SI_and_read_back_as_typed(string kind)
    {
        var (us, si) = (LogQuestions.Of(kind, Units.UsCustomary), LogQuestions.Of(kind));
        var (asked, metric) = (us.Amount ?? us.Depth!, si.Amount ?? si.Depth!);
        Assert.NotEqual(metric.Unit, asked.Unit);
        for (var tenths = 1; tenths <= 1000; tenths++)
        {
            var typed = tenths / 10.0;
            if (typed < asked.Low || typed > asked.High)
                continue;
            var kept = typed * asked.Kept;
            Assert.InRange(kept / metric.Kept, metric.Low, metric.High);
            Assert.Equal(s_us.Number(typed, 2), s_us.Number(kept / asked.Kept, 2));
        }

        Assert.InRange(asked.Low * asked.Kept / metric.Kept, metric.Low, metric.High);
        Assert.InRange(asked.High * asked.Kept / metric.Kept, metric.Low, metric.High);
    }

    [Fact]
    public void A_share_has_no_unit() => Assert.Equal(LogQuestions.Of(LogKinds.Mycelium), LogQuestions.Of(LogKinds.Mycelium, Units.UsCustomary));
}
