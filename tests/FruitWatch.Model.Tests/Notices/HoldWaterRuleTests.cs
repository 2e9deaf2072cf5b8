using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

// Composted manure holds so much water that rain alone drowns it: porosity 0.68, container capacity 0.50.
public class HoldWaterRuleTests
{
    private const NoticeKind HoldWater = NoticeKind.HoldWater;

    private static BedStory Compost() => new BedStory("almond-agaricus", "composted-manure").Then(5, 24, 12);

    private static BedStory Drenched() => Compost().Then(3, 20, 14, rain: 30).Then(30, 24, 12);

    [Fact]
    public void Rain_that_leaves_little_air_in_compost_holds_the_water()
    {
        var draft = new Shelf().Opens(Drenched().On(6), HoldWater);

        Assert.Equal(ReasonCode.AirLow, draft.Reason.Code);
        Assert.True(draft.Reason[ReasonNumber.Air] < HoldWaterRule.AirMark);
        Assert.Equal(60, draft.Reason[ReasonNumber.RainToCome]);
        Assert.Null(draft.Amount);
    }

    [Fact]
    public void It_names_the_last_day_on_which_the_bed_is_too_wet()
    {
        var morning = Drenched().On(6);
        var draft = new Shelf().Opens(morning, HoldWater);

        Assert.True(morning.Account.On(draft.Deadline)!.Value.Air < HoldWaterRule.AirMark);
        Assert.True(morning.Account.On(draft.Deadline.PlusDays(1))!.Value.Air >= HoldWaterRule.AirMark);
    }

    [Fact]
    public void Chips_at_the_same_rain_keep_air_enough() =>
        Shelf.IsSilent(new BedStory().Then(5, 24, 12).Then(3, 20, 14, rain: 15).Then(20, 24, 12).On(9), HoldWater);

    [Fact]
    public void A_dripping_bed_before_much_rain_holds_the_water()
    {
        var story = new BedStory().Then(5, 24, 12).Then(3, 20, 14, rain: 15).Then(20, 24, 12)
            .Logged(4, d => new SqueezeTest(d, Squeeze.Dripping));

        Assert.Equal(ReasonCode.SoakedAndRain, new Shelf().Opens(story.On(5), HoldWater).Reason.Code);
    }

    [Fact]
    public void It_is_kept_a_little_beyond_its_mark_and_withdrawn_when_the_bed_has_drained()
    {
        var shelf = new Shelf();
        shelf.Opens(Drenched().On(6), HoldWater);
        shelf.Keeps(Drenched().On(7), HoldWater);
        shelf.Keeps(Drenched().On(8), HoldWater);

        shelf.Closes(Drenched().On(9), HoldWater, NoticeEnd.Withdrawn, ClosingCode.Drained);
    }

    [Fact]
    public void It_is_withdrawn_when_the_rain_is_no_longer_forecast_and_the_bed_not_wet()
    {
        var shelf = new Shelf();
        var rainComing = Compost().Then(1, 24, 12).Then(3, 20, 14, rain: 40).Then(20, 24, 12);
        shelf.Opens(rainComing.On(6), HoldWater);

        shelf.Closes(Compost().Then(40, 24, 12).On(7), HoldWater, NoticeEnd.Withdrawn, ClosingCode.Drained);
    }

    [Fact]
    public void Air_between_its_mark_and_what_keeps_it_opens_nothing_but_keeps()
    {
        // 520 L of water and 300 kg of dry compost in a cubic metre of porosity 0.68 leave 0.16 of air.
        var rule = new HoldWaterRule();
        var edge = Compost().Then(20, 20, 14).Logged(6, d => new MoistureMeasured(d, 0.52 * 1000 / (0.52 * 1000 + 300))).On(7);

        Assert.Null(rule.Holds(edge, null, null));
        Assert.NotNull(rule.Holds(edge, Open(edge), null));

        static OpenNotice Open(BedMorning m) =>
            new(1, HoldWater, 1, m.Today.PlusDays(-1), m.Today.PlusDays(-1), m.Today, null, NoticeReason.Of(ReasonCode.AirLow));
    }
}
