using CsCheck;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Learning;
using FruitWatch.Model.Tests.Account;

namespace FruitWatch.Model.Tests.Learning;

/// <summary>Errors of the catalogue: 7 points of moisture, 15 % of the bed, 4 days.</summary>
public class LikelihoodTests
{
    private static readonly Likelihood s_likelihood = new(Made.Catalogue.Learning);
    private static readonly BedDay s_today = new BedPlan(Made.Bed(), [], Made.Catalogue, 1).On(0);

    [Fact]
    public void A_layer_in_the_middle_of_a_class_is_what_the_class_says_best()
    {
        Assert.True(Of(Squeeze.Right, 0.8) > Of(Squeeze.Right, 0.3));
        Assert.True(Of(Squeeze.Right, 0.8) > Of(Squeeze.Right, 1.3));
        Assert.True(Of(Squeeze.Crumbles, 0.2) > Of(Squeeze.Crumbles, 0.6));
        Assert.True(Of(Squeeze.Dripping, 1.3) > Of(Squeeze.Dripping, 1.0));
    }

    /// <summary>On the limit between two classes the handful is as likely to be called the one as the other.</summary>
    [Theory]
    [InlineData(Squeeze.Crumbles, 0.5)]
    [InlineData(Squeeze.Dripping, 1.05)]
    public void On_the_limit_an_outer_class_has_a_chance_of_one_half(Squeeze result, double relative) =>
        Assert.Equal(Math.Log(0.5), Of(result, relative), 1e-12);

    [Fact]
    public void The_three_classes_share_all_chances() => Gen.Double[0, 1.6].Sample(relative =>
    {
        var bestOfRight = StandardNormal.Between(-HalfWidthOfRight(), HalfWidthOfRight());
        var sum = Math.Exp(Of(Squeeze.Crumbles, relative)) + Math.Exp(Of(Squeeze.Right, relative)) * bestOfRight + Math.Exp(Of(Squeeze.Dripping, relative));
        Assert.Equal(1, sum, 1e-12);
    });

    [Fact]
    public void A_measured_moisture_7_points_off_has_lost_half_a_unit()
    {
        var water = s_today.DryMass; // half water, half dry mass

        Assert.Equal(0, s_likelihood.OfMoisture(0.50, s_today, water), 1e-12);
        Assert.Equal(-0.5, s_likelihood.OfMoisture(0.57, s_today, water), 1e-12);
        Assert.Equal(-0.5, s_likelihood.OfMoisture(0.43, s_today, water), 1e-12);
    }

    [Fact]
    public void All_of_the_bed_seen_white_is_no_evidence_against_a_run_that_is_done()
    {
        Assert.Equal(0, s_likelihood.OfMycelium(1, 1), 1e-12);
        Assert.Equal(Math.Log(2 * StandardNormal.Above(1)), s_likelihood.OfMycelium(1, 0.85), 1e-12);
        Assert.Equal(0, s_likelihood.OfMycelium(0, 0), 1e-12);
        Assert.Equal(-0.5, s_likelihood.OfMycelium(0.5, 0.65), 1e-12);
    }

    [Fact]
    public void Pins_4_days_off_lose_half_a_unit_and_a_quarter_where_both_dates_were_seen()
    {
        Assert.Equal(-0.5, s_likelihood.OfPins(4, sincePinsSeen: false), 1e-12);
        Assert.Equal(-0.25, s_likelihood.OfPins(4, sincePinsSeen: true), 1e-12);
    }

    [Fact]
    public void Pins_that_do_not_come_weigh_less_the_longer_they_were_waited_for_but_never_more_than_the_next_day() => Gen.Int[0, 19].Sample(days =>
    {
        Assert.True(s_likelihood.OfPinsWithout(days, false) > s_likelihood.OfPinsWithout(days + 1, false));
        Assert.InRange(s_likelihood.OfPinsWithout(days, false), s_likelihood.OfPins(days + 20, false), s_likelihood.OfPins(days + 1, false));
    });

    private static double HalfWidthOfRight() => (WetBasis(1.05) - WetBasis(0.5)) / 2 / Made.Catalogue.Learning.SdMoisture;

    private static double WetBasis(double relative) => Water(relative) / (Water(relative) + s_today.DryMass);

    private static double Water(double relative) => s_today.Low + relative * (s_today.Capacity - s_today.Low);

    private static double Of(Squeeze result, double relative) => s_likelihood.OfSqueeze(result, s_today, Water(relative));
}
