using System.Text;
using FruitWatch.Model.Futures;
using NodaTime;

namespace FruitWatch.Model.Tests.Futures;

public class DrawsTests
{
    private static readonly LocalDate s_day = new(2026, 5, 1);

    [Fact]
    public void The_seed_is_spread_as_SplitMix64_spreads_it()
    {
        // Seed 1234567: the first five numbers as published for splitmix64.c (Vigna 2015, prng.di.unimi.it).
        var state = 1234567UL;
        var numbers = Enumerable.Range(0, 5).Select(_ => Draws.SplitMix64(ref state));

        Assert.Equal(
            [6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821], numbers);
    }

    [Fact]
    public void Numbers_follow_as_in_xoshiro256_star_star()
    {
        // State 1, 2, 3, 4: the first ten numbers of the authors' xoshiro256starstar.c (Blackman & Vigna 2018).
        var draws = new Draws(1, 2, 3, 4);
        var numbers = Enumerable.Range(0, 10).Select(_ => draws.Next());

        Assert.Equal(
            [
                11520, 0, 1509978240, 1215971899390074240, 1216172134540287360, 607988272756665600, 16172922978634559625,
                8476171486693032832, 10595114339597558777, 2904607092377533576,
            ],
            numbers);
    }

    [Theory]
    [InlineData("", 0xCBF29CE484222325)] // test vectors of the FNV reference code (Noll)
    [InlineData("a", 0xAF63DC4C8601EC8C)]
    [InlineData("foobar", 0x85944171F73967E8)]
    public void Names_are_hashed_as_FNV_1a_does(string name, ulong hash) =>
        Assert.Equal(hash, Draws.Fnv1a(Encoding.ASCII.GetBytes(name)));

    [Fact]
    public void A_site_and_day_have_the_same_numbers_for_ever()
    {
        // Worked out apart, in Python, from the three algorithms above.
        Assert.Equal(15165435113275832898, Draws.For("alder-lane", s_day).Next());
        Assert.Equal(10955170960875676722, Draws.For("alder-lane", s_day).Stream(1, 2).Next());
    }

    [Fact]
    public void Another_site_day_purpose_or_member_has_other_numbers()
    {
        var draws = Draws.For("alder-lane", s_day);
        ulong[] firsts =
        [
            draws.Next(), Draws.For("mill-brook", s_day).Next(), Draws.For("alder-lane", s_day.PlusDays(1)).Next(),
            draws.Stream(1).Next(), draws.Stream(2).Next(), draws.Stream(1, 1).Next(),
        ];

        Assert.Equal(firsts.Length, firsts.Distinct().Count());
    }

    [Fact]
    public void A_stream_does_not_depend_on_what_was_drawn_before_it()
    {
        var fresh = new Draws(7);
        var used = new Draws(7);
        used.Normal();

        Assert.Equal(fresh.Stream(1, 2).Next(), used.Stream(1, 2).Next());
    }

    [Fact]
    public void Uniform_draws_fill_the_range_evenly_and_never_reach_one()
    {
        var draws = new Draws(1);
        var counts = new int[20];
        for (var i = 0; i < 100_000; i++)
            counts[(int)(draws.Uniform() * 20)]++;

        Assert.True(ChiSquare.Of(counts) < ChiSquare.OneInAThousand19);
    }

    [Fact]
    public void Whole_numbers_are_drawn_evenly()
    {
        var draws = new Draws(2);
        var counts = new int[20];
        for (var i = 0; i < 100_000; i++)
            counts[draws.Below(20)]++;

        Assert.True(ChiSquare.Of(counts) < ChiSquare.OneInAThousand19);
        Assert.Throws<ArgumentOutOfRangeException>(() => draws.Below(0));
    }

    [Fact]
    public void Normal_draws_have_the_moments_of_the_normal()
    {
        var draws = new Draws(3);
        var z = Enumerable.Range(0, 200_000).Select(_ => draws.Normal()).ToList();

        // Four standard errors: 1/√n, √(2/n), √(15/n), √(96/n).
        Assert.Equal(0, z.Average(), 0.009);
        Assert.Equal(1, z.Average(x => x * x), 0.013);
        Assert.Equal(0, z.Average(x => x * x * x), 0.035);
        Assert.Equal(3, z.Average(x => x * x * x * x), 0.09);
        Assert.Equal(0, z.Zip(z.Skip(1)).Average(pair => pair.First * pair.Second), 0.009);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(8)]
    public void Chi_square_has_its_degrees_for_mean_and_twice_that_for_variance(int degrees)
    {
        var draws = new Draws(4);
        var x = Enumerable.Range(0, 200_000).Select(_ => draws.ChiSquare(degrees)).ToList();

        Assert.Equal(degrees, x.Average(), 0.05);
        Assert.Equal(2 * degrees, x.Average(v => (v - degrees) * (v - degrees)), 0.4);
    }

    [Fact]
    public void Shuffling_loses_nothing_and_gives_every_place_the_same_chance()
    {
        var draws = new Draws(5);
        var counts = new int[20];
        for (var i = 0; i < 20_000; i++)
        {
            var order = draws.Shuffled(Enumerable.Range(0, 20));
            Assert.Equal(20, order.Distinct().Count());
            counts[Array.IndexOf(order, 0)]++;
        }

        Assert.True(ChiSquare.Of(counts) < ChiSquare.OneInAThousand19);
    }
}
