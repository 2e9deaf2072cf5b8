using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

public class CoverOffRuleTests
{
    private const NoticeKind CoverOff = NoticeKind.CoverOff;

    // Run through on day 12 by the log; ready on day 30, the species' earliest.
    private static BedStory Covered(double tmin = 12) => new BedStory().Then(80, 20, tmin)
        .Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(12, d => new MyceliumSeen(d, 1));

    [Fact]
    public void A_covered_bed_is_uncovered_a_week_before_it_is_ready()
    {
        Shelf.IsSilent(Covered().On(22), CoverOff);
        var morning = Covered().On(23);
        var draft = new Shelf().Opens(morning, CoverOff);

        Assert.Equal(ReasonCode.ReadyToPin, draft.Reason.Code);
        Assert.Equal(7, draft.Reason[ReasonNumber.Days]);
        Assert.Equal(AccountEvent.Colonised, morning.Account.On(draft.Deadline)!.Value.Event);
    }

    [Fact]
    public void A_bed_that_is_not_covered_needs_no_uncovering() =>
        Shelf.IsSilent(Covered().Logged(20, d => new CoverChanged(d, Cover.None)).On(25), CoverOff);

    [Fact]
    public void A_flush_under_a_cover_is_uncovered_today()
    {
        var morning = Covered().Logged(20, d => new PinsSeen(d)).On(21);
        var draft = new Shelf().Opens(morning, CoverOff);

        Assert.Equal(ReasonCode.FruitingUnderCover, draft.Reason.Code);
        Assert.Equal(morning.Today, draft.Deadline);
    }

    [Fact]
    public void A_flush_stays_covered_before_a_frost_that_kills()
    {
        // In the open on a clear night the ground is 3 °C below the screen: 0 °C there is −3 °C here; wine cap dies at −2 °C.
        var story = new BedStory().Then(21, 20, 8).Then(2, 12, 8).Then(1, 12, 0).Then(20, 14, 8)
            .Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(20, d => new PinsSeen(d));

        Shelf.IsSilent(story.On(21), CoverOff);
        Assert.Equal(ReasonCode.FruitingUnderCover, new Shelf().Opens(story.On(24), CoverOff).Reason.Code);
    }

    [Fact]
    public void A_frost_in_the_new_forecast_withdraws_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Covered().Logged(20, d => new PinsSeen(d)).On(21), CoverOff);

        var frost = new BedStory().Then(23, 20, 12).Then(2, 12, -2).Then(20, 14, 8)
            .Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(20, d => new PinsSeen(d));
        shelf.Closes(frost.On(22), CoverOff, NoticeEnd.Withdrawn, ClosingCode.FrostComing);
    }

    [Fact]
    public void A_frost_just_short_of_killing_opens_nothing_but_keeps_what_is_open()
    {
        // 1.5 °C at the screen is −1.5 °C at the ground: between wine cap's −2 °C and one degree more.
        var edge = new BedStory().Then(22, 20, 8).Then(1, 14, 1.5).Then(20, 16, 8)
            .Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(20, d => new PinsSeen(d)).On(21);
        Shelf.IsSilent(edge, CoverOff);

        var shelf = new Shelf();
        shelf.Opens(Covered().Logged(19, d => new PinsSeen(d)).On(20), CoverOff);
        shelf.Keeps(edge, CoverOff);
    }

    [Fact]
    public void Good_rain_on_a_dry_covered_bed_is_let_in_on_the_first_wet_day()
    {
        var story = new BedStory().Then(8, 24, 12).Then(1, 22, 12).Then(2, 18, 12, rain: 12).Then(20, 20, 12)
            .Logged(7, d => new CoverChanged(d, Cover.Sheet));
        var morning = story.On(8);
        var draft = new Shelf().Opens(morning, CoverOff);

        Assert.Equal(ReasonCode.RainForDryBed, draft.Reason.Code);
        Assert.Equal(morning.Today.PlusDays(1), draft.Deadline);
        Assert.Equal(24, draft.Reason[ReasonNumber.RainToCome]);
    }

    [Fact]
    public void Rain_that_would_stay_in_the_mulch_is_not_worth_it()
    {
        var story = new BedStory().Then(8, 24, 12).Then(2, 18, 12, rain: 6).Then(20, 20, 12)
            .Logged(7, d => new CoverChanged(d, Cover.Sheet)).Logged(7, d => new SqueezeTest(d, Squeeze.Crumbles));
        story.Bed = story.Bed with { MulchCm = 5, Mulch = story.Bed.Layers[0].Material };

        Shelf.IsSilent(story.On(8), CoverOff);
    }

    [Fact]
    public void Uncovering_ends_it_as_done()
    {
        var shelf = new Shelf();
        shelf.Opens(Covered().On(23), CoverOff);

        shelf.Closes(Covered().Logged(23, d => new CoverChanged(d, Cover.None)).On(24), CoverOff, NoticeEnd.Done, ClosingCode.Uncovered);
    }

    [Fact]
    public void A_readiness_that_moves_off_by_a_day_or_two_keeps_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Covered().On(23), CoverOff);

        // The same bed, found to have been laid two days later: ready in nine days.
        var later = new BedStory(inoculated: "2025-05-03").Then(80, 20, 12)
            .Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(12, d => new MyceliumSeen(d, 1));
        shelf.Keeps(later.On(21), CoverOff);
    }

    [Fact]
    public void A_flush_that_is_over_withdraws_it()
    {
        var shelf = new Shelf();
        var picking = Covered().Logged(20, d => new Picked(d, 1));
        shelf.Opens(picking.On(21), CoverOff);

        shelf.Closes(picking.Logged(21, d => new FlushOver(d)).On(22), CoverOff, NoticeEnd.Withdrawn, ClosingCode.PhaseChanged);
    }

    [Fact]
    public void Rain_that_is_gone_lapses_it()
    {
        var shelf = new Shelf();
        var story = new BedStory().Then(8, 24, 12).Then(1, 18, 12, rain: 24).Then(30, 20, 12)
            .Logged(7, d => new CoverChanged(d, Cover.Sheet));
        shelf.Opens(story.On(8), CoverOff);

        shelf.Closes(story.On(9), CoverOff, NoticeEnd.Lapsed, ClosingCode.DayPassed);
    }
}
