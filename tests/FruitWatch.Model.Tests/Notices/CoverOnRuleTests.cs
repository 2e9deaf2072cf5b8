using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

public class CoverOnRuleTests
{
    private const NoticeKind CoverOn = NoticeKind.CoverOn;

    private static BedStory Dry() => new BedStory().Then(60, 24, 12);

    private static BedStory Wet() => new BedStory().Then(60, 20, 10, rain: 3);

    [Fact]
    public void A_bed_in_spawn_run_that_would_dry_within_the_week_is_to_be_covered_the_day_before()
    {
        var morning = Dry().On(1);
        var draft = new Shelf().Opens(morning, CoverOn);

        Assert.Equal(ReasonCode.DryAhead, draft.Reason.Code);
        var dry = morning.Today.PlusDays((int)draft.Reason[ReasonNumber.Days]);
        Assert.True(morning.Account.On(dry)!.Value.Moisture < draft.Reason[ReasonNumber.WaterMark]);
        Assert.True(morning.Account.On(dry.PlusDays(-1))!.Value.Moisture >= draft.Reason[ReasonNumber.WaterMark]);
        Assert.Equal(dry.PlusDays(-1), draft.Deadline);
    }

    [Fact]
    public void Rain_enough_needs_no_cover() => Shelf.IsSilent(Wet().On(5), CoverOn);

    [Fact]
    public void Heavy_rain_on_compost_asks_for_a_cover()
    {
        var story = new BedStory("almond-agaricus", "composted-manure").Then(3, 20, 12, rain: 4).Then(2, 18, 14, rain: 60).Then(20, 20, 12, rain: 4);
        var draft = new Shelf().Opens(story.On(3), CoverOn);

        Assert.Equal(ReasonCode.RainWouldDrown, draft.Reason.Code);
        Assert.True(draft.Reason[ReasonNumber.Air] < CoverOnRule.AirMark);
    }

    [Fact]
    public void A_bed_that_is_growing_a_flush_is_never_covered_for_drought() =>
        Shelf.IsSilent(Dry().Logged(1, d => new PinsSeen(d)).On(3), CoverOn);

    [Fact]
    public void A_bed_that_was_uncovered_lately_is_not_to_be_covered_again_against_drought()
    {
        // Seen in a replayed summer: uncovered on advice one day, to be covered again on the next.
        Shelf.IsSilent(Dry().Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(4, d => new CoverChanged(d, Cover.None)).On(5), CoverOn);
        new Shelf().Opens(Dry().Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(4, d => new CoverChanged(d, Cover.None)).On(4 + CoverOnRule.LeftOpenDays + 1), CoverOn);
    }

    [Fact]
    public void A_resting_bed_is_covered_like_one_in_spawn_run()
    {
        var resting = Dry().Logged(1, d => new Picked(d, 2)).Logged(2, d => new FlushOver(d));

        new Shelf().Opens(resting.On(3), CoverOn);
    }

    [Fact]
    public void A_bed_that_is_ready_within_ten_days_is_left_open()
    {
        // Run through on day 12 by the log, ready on day 30 by the species' earliest.
        var story = new BedStory().Then(16, 22, 12, rain: 4).Then(60, 24, 12).Logged(12, d => new MyceliumSeen(d, 1));

        new Shelf().Opens(story.On(18), CoverOn);
        Shelf.IsSilent(story.On(21), CoverOn);
    }

    [Fact]
    public void Covering_it_ends_it_as_done()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(1), CoverOn);

        shelf.Closes(Dry().Logged(1, d => new CoverChanged(d, Cover.Sheet)).On(2), CoverOn, NoticeEnd.Done, ClosingCode.Covered);
    }

    [Fact]
    public void Rain_in_the_new_forecast_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(1), CoverOn);

        var rain = new BedStory().Then(4, 24, 12).Then(30, 18, 12, rain: 5);
        shelf.Closes(rain.On(2), CoverOn, NoticeEnd.Withdrawn, ClosingCode.RainComing);
    }

    [Fact]
    public void Pins_seen_withdraw_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(1), CoverOn);

        shelf.Closes(Dry().Logged(2, d => new PinsSeen(d)).On(3), CoverOn, NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
    }

    [Fact]
    public void It_is_told_once_while_the_drought_lasts()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(1), CoverOn);

        for (var day = 2; day < 12; day++)
            shelf.Keeps(Dry().On(day), CoverOn);
    }
}
