using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

public class DrawsTests
{
    /// <summary>First numbers of SplitMix64 from the seed 1234567, as Vigna's splitmix64.c prints them.</summary>
    [Fact]
    public void The_generator_is_SplitMix64()
    {
        var draws = new Draws(1234567);

        Assert.Equal(
            [6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821],
            new[] { draws.Next(), draws.Next(), draws.Next(), draws.Next(), draws.Next() });
    }

    [Fact]
    public void Every_number_below_the_limit_comes_about_equally_often()
    {
        var draws = new Draws(3);
        var counts = new int[7];
        for (var i = 0; i < 70_000; i++)
            counts[draws.Below(7)]++;

        Assert.All(counts, count => Assert.InRange(count, 10_000 - 465, 10_000 + 465)); // 5 standard deviations of a fair seventh
    }
}
