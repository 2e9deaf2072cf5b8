using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

// Wine cap, run through on day 12 by the log, is ready on day 30, is triggered on day 31 by the rain and pins six good days later.
public class ExpectPinsRuleTests
{
    private const NoticeKind Pins = NoticeKind.ExpectPins;

    private static BedStory Story(double tmax = 18, double tmin = 10, int from = 31) => new BedStory()
        .Then(from, 18, 10, rain: 4).Then(80, tmax, tmin, rain: 4).Logged(12, d => new MyceliumSeen(d, 1));

    [Fact]
    public void Pins_within_ten_days_are_told_with_a_window_and_the_caution()
    {
        var morning = Story().On(30);
        var draft = new Shelf().Opens(morning, Pins);

        Assert.Equal(AccountEvent.Pins, morning.Account.On(draft.Day)!.Value.Event);
        Assert.True(draft.From < draft.Day && draft.Day < draft.Until);
        Assert.Equal(draft.Until, draft.Deadline);
        Assert.True(draft.From >= morning.Today);
        Assert.True(draft.NeedsEatingCaution);
        Assert.Equal(NoticeConfidence.Possible, draft.Confidence);
    }

    [Fact]
    public void Pins_further_off_are_not_told() => Shelf.IsSilent(Story().On(26), Pins);

    [Fact]
    public void The_window_widens_with_the_lead()
    {
        Assert.Equal(2, FlushWindow.HalfWidth(0));
        Assert.Equal(3, FlushWindow.HalfWidth(3));
        Assert.Equal(5, FlushWindow.HalfWidth(10));
    }

    [Fact]
    public void A_bed_that_is_pinning_makes_the_next_days_likely() =>
        Assert.Equal(NoticeConfidence.Likely, new Shelf().Opens(Story().On(34), Pins).Confidence);

    [Fact]
    public void In_a_short_forecast_a_bed_is_told_only_with_two_days_to_spare()
    {
        var shortOne = new BedStory { ForecastDays = 5 };
        shortOne.Then(80, 18, 10, rain: 4).Logged(12, d => new MyceliumSeen(d, 1));
        var pins = Enumerable.Range(20, 30).First(d => Story().On(40).Account.On(shortOne.DayAt(d))!.Value.Event == AccountEvent.Pins);

        Shelf.IsSilent(shortOne.On(pins - 3), Pins);
        new Shelf().Opens(shortOne.On(pins - 2), Pins);
    }

    [Fact]
    public void Pins_seen_end_it_as_done()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(30), Pins);

        shelf.Closes(Story().Logged(33, d => new PinsSeen(d)).On(33), Pins, NoticeEnd.Done, ClosingCode.PinsSeen);
    }

    [Fact]
    public void Pins_by_the_account_end_it_as_done()
    {
        var shelf = new Shelf();
        var day = Story().On(30);
        var pins = shelf.Opens(day, Pins).Day;

        var after = NodaTime.Period.DaysBetween(day.Bed.Inoculated, pins) + 1;
        shelf.Keeps(Story().On(after - 1), Pins);
        shelf.Closes(Story().On(after), Pins, NoticeEnd.Done, ClosingCode.PinsByAccount);
    }

    [Fact]
    public void It_is_done_even_when_nobody_looked_at_the_account_for_weeks()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(30), Pins);

        shelf.Closes(Story().On(60), Pins, NoticeEnd.Done, ClosingCode.PinsByAccount);
    }

    [Fact]
    public void Heat_in_the_new_forecast_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(30), Pins);

        // Wine cap forms no pins at 26 °C or above.
        shelf.Closes(Story(tmax: 34, tmin: 24).On(31), Pins, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    [Fact]
    public void Pinning_that_failed_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(32), Pins);

        shelf.Closes(Story(tmax: 34, tmin: 24, from: 32).On(46), Pins, NoticeEnd.Withdrawn, ClosingCode.AttemptFailed);
    }

    [Fact]
    public void A_day_that_moves_by_three_is_told_again_and_by_one_is_not()
    {
        var shelf = new Shelf();
        var first = shelf.Opens(Story().On(31), Pins);

        // 6.8 °C on average is in the lower slope of wine cap's pins: 6 to 10 °C.
        var later = Assert.IsType<NoticeRevised>(shelf.Take(Story(tmax: 8.5, tmin: 4.5, from: 33).On(31), Pins));
        Assert.True(later.Draft.Day >= first.Day.PlusDays(3));
        shelf.Keeps(Story(tmax: 8.5, tmin: 4.5, from: 33).On(32), Pins);
    }

    [Fact]
    public void Weather_that_was_filled_in_makes_it_no_more_than_possible()
    {
        var story = new BedStory();
        story.Then(32, 18, 10, rain: 4);
        story.Then(new Model.Weather.WeatherDay(default, 18, 10, 4).From(Model.Weather.Provenance.GapFilled));
        story.Then(60, 18, 10, rain: 4).Logged(12, d => new MyceliumSeen(d, 1));

        Assert.Equal(NoticeConfidence.Possible, new Shelf().Opens(story.On(34), Pins).Confidence);
    }
}
