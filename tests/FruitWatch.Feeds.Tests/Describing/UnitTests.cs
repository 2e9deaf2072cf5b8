using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Tests.Describing;

public sealed class UnitTests
{
    // Exact by definition: NIST SP 811 (2008), appendix B.8 and section 4.2.1.1.
    [Theory]
    [InlineData("Cel", 21.5, 21.5)]
    [InlineData("[degF]", 32, 0)]
    [InlineData("[degF]", 212, 100)]
    [InlineData("[degF]", -40, -40)]
    [InlineData("K", 273.15, 0)]
    [InlineData("mm", 3.2, 3.2)]
    [InlineData("cm", 1, 10)]
    [InlineData("m", 0.001, 1)]
    [InlineData("[in_i]", 1, 25.4)]
    [InlineData("%", 80, 80)]
    public void A_value_comes_over_as_the_definitions_say(string code, double value, double inModel) =>
        Assert.Equal(inModel, Unit.ByCode(code)!.ToModel(value), 12);

    [Theory]
    [InlineData("°C", "Cel")]
    [InlineData("celcius", "Cel")]
    [InlineData("Celsius", "Cel")]
    [InlineData("wmoUnit:degF", "[degF]")]
    [InlineData("kg/m2", "mm")]
    [InlineData("INCH", "[in_i]")]
    [InlineData("in", "[in_i]")]
    [InlineData("K", "K")]
    [InlineData("m", "m")]
    [InlineData("percent", "%")]
    public void The_spellings_feeds_use_are_known(string declared, string code) => Assert.Equal(code, Unit.Declared(declared)?.Code);

    [Theory]
    [InlineData("M")]
    [InlineData("k")]
    [InlineData("MM")]
    [InlineData("furlong")]
    [InlineData("")]
    public void What_only_looks_like_a_unit_is_not_guessed(string declared) => Assert.Null(Unit.Declared(declared));

    [Fact]
    public void No_spelling_stands_for_two_units()
    {
        var all = Unit.All.SelectMany(unit => unit.Aliases.Prepend(unit.Code)).ToList();
        Assert.Equal(all.Distinct(StringComparer.Ordinal), all);
    }
}
