using CsCheck;
using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Tests.Futures;

public class ChanceTests
{
    /// <summary>Four past years cannot tell more than about one in four: (k + ½)/(n + 1).</summary>
    [Theory]
    [InlineData(0, 4, 0.1)]
    [InlineData(1, 4, 0.3)]
    [InlineData(2, 4, 0.5)]
    [InlineData(4, 4, 0.9)]
    [InlineData(0, 1, 0.25)]
    [InlineData(64, 64, 64.5 / 65)]
    public void A_count_of_futures_gives_its_chance(int k, int n, double expected) => Assert.Equal(expected, Chance.Of(k, n), 1e-15);

    [Fact]
    public void Nothing_is_certain_or_impossible_and_for_and_against_add_up_to_one() =>
        Gen.Int[1, int.MaxValue].SelectMany(n => Gen.Int[0, n].Select(k => (k, n))).Sample((k, n) =>
        {
            Assert.InRange(Chance.Of(k, n), double.Epsilon, Math.BitDecrement(1.0));
            Assert.Equal(1, Chance.Of(k, n) + Chance.Of(n - k, n), 1e-12);
        });

    [Theory]
    [InlineData(-1, 4)]
    [InlineData(5, 4)]
    [InlineData(0, 0)]
    [InlineData(0, -1)]
    public void A_count_that_cannot_be_is_refused(int k, int n) => Assert.Throws<ArgumentOutOfRangeException>(() => Chance.Of(k, n));
}
