using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

// Wine cap: eight good days from pins to the first pick, five days of picking.
public class ExpectHarvestRuleTests
{
    private const NoticeKind Harvest = NoticeKind.ExpectHarvest;

    private static BedStory Story(int mild = 100, double then = 8) => new BedStory()
        .Then(mild, 18, 10, rain: 4).Then(1, 12, then).Then(60, 18, 10, rain: 4).Logged(12, d => new PinsSeen(d));

    [Fact]
    public void A_flush_within_ten_days_is_told_with_a_window_and_the_caution()
    {
        var morning = Story().On(13);
        var draft = new Shelf().Opens(morning, Harvest);

        Assert.Equal(ReasonCode.HarvestAhead, draft.Reason.Code);
        Assert.Equal(AccountEvent.Harvest, morning.Account.On(draft.Day)!.Value.Event);
        Assert.True(draft.From < draft.Day && draft.Day < draft.Until);
        Assert.True(draft.NeedsEatingCaution);
    }

    [Fact]
    public void A_bed_in_spawn_run_has_none() => Shelf.IsSilent(new BedStory().Then(60, 18, 10, rain: 4).On(5), Harvest);

    [Fact]
    public void The_flush_that_can_be_picked_is_told_again()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(13), Harvest);

        for (var day = 14; day <= 20; day++)
            shelf.Keeps(Story().On(day), Harvest);
        var ready = Assert.IsType<NoticeRevised>(shelf.Take(Story().On(21), Harvest)).Draft;
        Assert.Equal(ReasonCode.FlushReady, ready.Reason.Code);
        Assert.Equal(NoticeConfidence.Likely, ready.Confidence);
        Assert.Equal(AccountEvent.FlushOver, Story().On(30).Account.On(ready.Until)!.Value.Event);
        shelf.Keeps(Story().On(22), Harvest);
    }

    [Fact]
    public void A_flush_that_was_picked_from_is_firm() =>
        Assert.Equal(NoticeConfidence.Firm, new Shelf().Opens(Story().Logged(15, d => new Picked(d, 1)).On(16), Harvest).Confidence);

    [Fact]
    public void A_picked_flush_that_is_over_ends_it_as_done()
    {
        var shelf = new Shelf();
        var picked = Story().Logged(21, d => new Picked(d, 1.5));
        shelf.Opens(picked.On(21), Harvest);
        shelf.Keeps(picked.On(22), Harvest);

        shelf.Closes(picked.Logged(24, d => new FlushOver(d)).On(24), Harvest, NoticeEnd.Done, ClosingCode.Picked);
    }

    [Fact]
    public void A_flush_that_nobody_picked_is_over_by_the_account()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(21), Harvest);

        shelf.Closes(Story().On(27), Harvest, NoticeEnd.Done, ClosingCode.FlushOver);
    }

    [Fact]
    public void A_flush_lost_to_frost_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(13), Harvest);

        shelf.Closes(Story(mild: 15, then: -3).On(16), Harvest, NoticeEnd.Withdrawn, ClosingCode.FlushLost);
    }

    [Fact]
    public void A_killing_frost_in_the_new_forecast_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(13), Harvest);

        shelf.Closes(Story(mild: 17, then: -3).On(14), Harvest, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    [Fact]
    public void A_slow_flush_that_the_forecast_ends_before_is_kept()
    {
        // Growing at 5 °C on average is a sixth of the best rate (4 to 10 °C): the flush moves beyond the forecast, but comes.
        var shelf = new Shelf();
        shelf.Opens(Story().On(13), Harvest);

        var slow = new BedStory().Then(14, 18, 10, rain: 4).Then(90, 7, 3, rain: 4).Logged(12, d => new PinsSeen(d));
        var outcome = Assert.IsType<NoticeRevised>(shelf.Take(slow.On(14), Harvest));
        Assert.True(outcome.Draft.Day > slow.On(14).LastDay);
        Assert.Equal(NoticeConfidence.Possible, outcome.Draft.Confidence);
    }
}
