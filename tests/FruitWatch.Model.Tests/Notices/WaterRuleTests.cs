using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

// Wine cap on chips in a dry May: the bed starts full and falls below its mark about the end of day 4.
public class WaterRuleTests
{
    private const NoticeKind Water = NoticeKind.Water;

    private static BedStory Dry() => new BedStory().Then(60, tmax: 24, tmin: 12);

    [Fact]
    public void A_bed_that_dries_below_its_mark_today_is_to_be_watered_today()
    {
        var morning = Dry().On(5);
        var draft = new Shelf().Opens(morning, Water);

        Assert.Equal(morning.Today, draft.Day);
        Assert.Equal(morning.Today, draft.Deadline);
        Assert.Equal(NoticeConfidence.Firm, draft.Confidence);
        Assert.Equal(ReasonCode.WaterLow, draft.Reason.Code);
        Assert.True(draft.Reason[ReasonNumber.Moisture] < draft.Reason[ReasonNumber.WaterMark]);
        Assert.Equal(1, draft.Reason[ReasonNumber.Goes]);
        Assert.False(draft.NeedsEatingCaution);
    }

    [Fact]
    public void The_litres_refill_the_layer_as_it_stands_in_two_days()
    {
        var morning = Dry().On(5);
        var then = morning.Account.On(morning.Today.PlusDays(2))!.Value;
        var mm = (1 - then.Moisture) * then.AvailableStore;

        // Area 4 m², 1 mm = 1 L/m²; a can of more than 20 litres is measured in fives.
        Assert.Equal(5 * Math.Round(4 * mm / 5), new Shelf().Opens(morning, Water).Amount);
    }

    [Theory]
    [InlineData(0.2, 1)]
    [InlineData(7.4, 7)]
    [InlineData(19.4, 19)]
    [InlineData(22.4, 20)]
    [InlineData(22.6, 25)]
    public void Litres_are_rounded_to_what_a_can_measures(double litres, double expected) =>
        Assert.Equal(expected, WaterRule.ByTheCan(litres));

    [Fact]
    public void A_bed_that_dries_below_its_mark_tomorrow_has_time_until_tomorrow()
    {
        var story = Dry();
        var first = Enumerable.Range(1, 10).First(day => story.On(day) is var m && m.Account.On(m.Today.PlusDays(1)) is { } then && then.Moisture < then.WaterMark);
        var morning = story.On(first);

        Assert.Equal(morning.Today.PlusDays(1), new Shelf().Opens(morning, Water).Deadline);
    }

    [Fact]
    public void A_moist_bed_is_not_watered() => Shelf.IsSilent(Dry().On(1), Water);

    [Fact]
    public void Rain_that_comes_within_two_days_spares_the_watering()
    {
        var rainTomorrow = new BedStory().Then(6, 24, 12).Then(1, 18, 12, rain: 15).Then(20, 20, 12);

        Shelf.IsSilent(rainTomorrow.On(5), Water);
    }

    [Fact]
    public void A_little_rain_does_not_spare_it()
    {
        var drizzle = new BedStory().Then(6, 24, 12).Then(1, 20, 12, rain: 2).Then(20, 24, 12);

        Assert.Equal(2, new Shelf().Opens(drizzle.On(5), Water).Reason[ReasonNumber.RainToCome]);
    }

    [Fact]
    public void So_dry_a_layer_that_it_sheds_water_is_watered_in_two_goes() =>
        Assert.Equal(2, new Shelf().Opens(Dry().On(14), Water).Reason[ReasonNumber.Goes]);

    [Fact]
    public void Under_a_cover_the_reason_says_so()
    {
        var covered = Dry().Logged(5, d => new CoverChanged(d, Cover.Sheet)).On(6);

        Assert.Equal(1, new Shelf().Opens(covered, Water).Reason[ReasonNumber.Covered]);
    }

    [Fact]
    public void A_covered_bed_is_uncovered_for_good_rain_and_not_watered()
    {
        var rain = new BedStory().Then(7, 24, 12).Then(2, 18, 12, rain: 15).Then(20, 20, 12)
            .Logged(6, d => new CoverChanged(d, Cover.Sheet));

        Shelf.IsSilent(rain.On(7), Water);
    }

    [Fact]
    public void Watering_ends_it_as_done()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(5), Water);

        shelf.Closes(Dry().Logged(5, d => new WaterGiven(d, 22)).On(6), Water, NoticeEnd.Done, ClosingCode.Watered);
    }

    [Fact]
    public void Rain_that_came_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(5), Water);

        var rained = new BedStory().Then(5, 24, 12).Then(1, 16, 12, rain: 30).Then(20, 24, 12);
        shelf.Closes(rained.On(6), Water, NoticeEnd.Withdrawn, ClosingCode.RainCame);
    }

    [Fact]
    public void Rain_that_is_now_forecast_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(5), Water);

        var rainComing = new BedStory().Then(7, 24, 12).Then(1, 16, 12, rain: 30).Then(20, 24, 12);
        shelf.Closes(rainComing.On(6), Water, NoticeEnd.Withdrawn, ClosingCode.RainComing);
    }

    [Fact]
    public void A_squeeze_test_that_finds_it_moist_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(5), Water);

        shelf.Closes(Dry().Logged(5, d => new SqueezeTest(d, Squeeze.Right)).On(6), Water, NoticeEnd.Withdrawn, ClosingCode.MoistEnough);
    }

    [Fact]
    public void A_bed_just_above_its_mark_keeps_an_open_notice_and_opens_none()
    {
        // In deep shade a bed dries by less than 0.05 a day: on one morning it lies between the mark and what keeps a notice.
        var story = Dry();
        story.Bed = story.Bed with { Shade = 0.95 };
        var edge = Enumerable.Range(1, 30).Select(story.On).First(m =>
        {
            var then = m.Account.On(m.Today.PlusDays(1))!.Value;
            return then.Moisture < then.WaterMark + WaterRule.KeptAbove;
        });
        var rule = new WaterRule();
        Assert.Null(rule.Holds(edge, null, null));

        var draft = new Shelf().Opens(Dry().On(5), Water);
        var open = new OpenNotice(1, Water, 1, edge.Today.PlusDays(-1), draft.Day, draft.Deadline, draft.Amount, draft.Reason);
        Assert.NotNull(rule.Holds(edge, open, null));
    }

    [Fact]
    public void A_notice_that_is_overdue_stays_open_while_the_bed_is_dry()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(5), Water);

        shelf.Keeps(Dry().On(6), Water);
        shelf.Keeps(Dry().On(7), Water);
    }

    [Fact]
    public void An_amount_that_changes_by_half_is_told_again()
    {
        var shelf = new Shelf();
        var first = shelf.Opens(Dry().On(5), Water);

        // A bed measured again, and found to be a third of the size, stands for any cause of a smaller amount.
        var smaller = Dry();
        smaller.Bed = smaller.Bed with { Area = 1.3 };
        var revised = Assert.IsType<NoticeRevised>(shelf.Take(smaller.On(6), Water));
        Assert.True(revised.Draft.Amount <= first.Amount / 2);
        shelf.Keeps(smaller.On(6), Water);
    }
}
