using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

// In the open, on a clear night (range 10 °C or more), the ground is 3 °C colder than the screen, else 1 °C: the account's rule.
public class FrostAheadRuleTests
{
    private const NoticeKind Frost = NoticeKind.FrostAhead;

    // Wine cap: a flush is lost at −2 °C at the ground. Pins were seen on day 5.
    private static BedStory Flush(int mild, double tmin) => new BedStory()
        .Then(mild, 16, 8, rain: 2).Then(1, 12, tmin).Then(40, 16, 8, rain: 2).Logged(5, d => new PinsSeen(d));

    // Wood blewit waits for a night of −1 °C at the ground once it is ready; ready here from day 151 on, in the cold half of the year.
    private static BedStory Blewit(string inoculated, double latitude, double tmin, int mild = 155)
    {
        var story = new BedStory("wood-blewit", "leaf-mould", inoculated, latitude).Then(mild, 14, 7, rain: 2).Then(1, 12, tmin).Then(30, 14, 7, rain: 2)
            .Logged(140, d => new MyceliumSeen(d, 1));
        story.Bed = story.Bed with { Shade = 0.3 };
        return story;
    }

    [Fact]
    public void A_killing_frost_tonight_on_a_flush_is_urgent_and_due_this_evening()
    {
        var morning = Flush(mild: 9, tmin: 0).On(8);
        var draft = new Shelf().Opens(morning, Frost);

        Assert.Equal(ReasonCode.FrostThreatens, draft.Reason.Code);
        Assert.Equal(morning.Today.PlusDays(1), draft.Day);
        Assert.Equal(morning.Today, draft.Deadline);
        Assert.True(draft.Urgent);
        Assert.Equal(-3, draft.Reason[ReasonNumber.GroundMin]);
        Assert.Equal(-2, draft.Reason[ReasonNumber.FrostMark]);
    }

    [Fact]
    public void Three_nights_off_it_is_told_without_haste_and_again_on_the_eve()
    {
        var shelf = new Shelf();
        var story = Flush(mild: 9, tmin: 0);
        Shelf.IsSilent(story.On(5), Frost);
        var draft = shelf.Opens(story.On(6), Frost);
        Assert.False(draft.Urgent);
        Assert.Equal(NoticeConfidence.Likely, draft.Confidence);

        shelf.Keeps(story.On(7), Frost);
        Assert.True(Assert.IsType<NoticeRevised>(shelf.Take(story.On(8), Frost)).Draft.Urgent);
        shelf.Keeps(story.On(8), Frost);
    }

    [Fact]
    public void A_light_frost_does_not_threaten_a_flush() => Shelf.IsSilent(Flush(mild: 9, tmin: 2).On(8), Frost);

    [Fact]
    public void A_bed_in_spawn_run_does_not_mind() =>
        Shelf.IsSilent(new BedStory().Then(9, 16, 8, rain: 2).Then(1, 12, -6).Then(40, 16, 8).On(8), Frost);

    [Fact]
    public void A_cover_that_is_enough_ends_it_as_done()
    {
        var shelf = new Shelf();
        shelf.Opens(Flush(mild: 9, tmin: 0).On(8), Frost);

        // Under the cover the ground is as warm as the screen: 0 °C.
        shelf.Closes(Flush(mild: 9, tmin: 0).Logged(8, d => new CoverChanged(d, Cover.Sheet)).On(8), Frost, NoticeEnd.Done, ClosingCode.Covered);
    }

    [Fact]
    public void A_frost_too_hard_for_a_cover_asks_to_pick()
    {
        var draft = new Shelf().Opens(Flush(mild: 9, tmin: -4).Logged(8, d => new CoverChanged(d, Cover.Sheet)).On(8), Frost);

        Assert.Equal(1, draft.Reason[ReasonNumber.Covered]);
        Assert.Equal(-4, draft.Reason[ReasonNumber.GroundMin]);
    }

    [Fact]
    public void A_milder_forecast_withdraws_it_but_one_degree_does_not()
    {
        var shelf = new Shelf();
        shelf.Opens(Flush(mild: 10, tmin: 0).On(7), Frost);

        shelf.Keeps(Flush(mild: 10, tmin: 1.5).On(7), Frost);
        shelf.Closes(Flush(mild: 10, tmin: 4).On(7), Frost, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
        Shelf.IsSilent(Flush(mild: 10, tmin: 1.5).On(7), Frost);
    }

    [Fact]
    public void A_night_that_has_passed_with_the_flush_alive_lapses_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Flush(mild: 9, tmin: 0).On(8), Frost);

        // It was 3 °C in the end.
        shelf.Closes(Flush(mild: 9, tmin: 3).On(9), Frost, NoticeEnd.Lapsed, ClosingCode.DayPassed);
    }

    [Fact]
    public void A_flush_lost_to_it_lapses_it()
    {
        var shelf = new Shelf();
        shelf.Opens(Flush(mild: 9, tmin: 0).On(8), Frost);

        shelf.Closes(Flush(mild: 9, tmin: 0).On(10), Frost, NoticeEnd.Lapsed, ClosingCode.FlushLost);
    }

    [Fact]
    public void A_second_spell_is_told_again_and_the_nights_of_one_spell_are_not()
    {
        var spell = Picking(0, 0, 0);
        var shelf = new Shelf();
        shelf.Opens(spell.On(10), Frost);
        shelf.Keeps(spell.On(11), Frost);

        var twoSpells = Picking(0, 8, 0);
        shelf = new Shelf();
        shelf.Opens(twoSpells.On(10), Frost);
        Assert.Equal(twoSpells.DayAt(13), Assert.IsType<NoticeRevised>(shelf.Take(twoSpells.On(11), Frost)).Draft.Day);

        // Picked on day 9, and for five days from then on; the nights are those of day 11 to 13.
        static BedStory Picking(params double[] nights)
        {
            var story = new BedStory().Then(11, 16, 8, rain: 2).Logged(9, d => new Picked(d, 1));
            foreach (var tmin in nights)
                story.Then(1, 12, tmin);
            return story.Then(20, 16, 8, rain: 2);
        }
    }

    [Theory]
    [InlineData("2025-05-10", 45)]
    [InlineData("2025-11-10", -45)]
    public void A_frost_that_a_ready_bed_waits_for_is_welcome_in_both_hemispheres(string inoculated, double latitude)
    {
        var morning = Blewit(inoculated, latitude, tmin: 1).On(153);
        Assert.Equal(Phase.Ready, morning.Phase);
        var draft = new Shelf().Opens(morning, Frost);

        Assert.Equal(ReasonCode.FrostTriggers, draft.Reason.Code);
        Assert.Equal(-2, draft.Reason[ReasonNumber.GroundMin]);
        Assert.Equal(-1, draft.Reason[ReasonNumber.FrostMark]);
        Assert.Equal(1, draft.Reason[ReasonNumber.Nights]);
        Assert.Equal(morning.Today.PlusDays(2), draft.Day);
        Assert.False(draft.Urgent);
    }

    [Fact]
    public void Under_a_cover_the_welcome_frost_asks_to_uncover()
    {
        var draft = new Shelf().Opens(Blewit("2025-05-10", 45, tmin: 1).Logged(152, d => new CoverChanged(d, Cover.Sheet)).On(153), Frost);

        Assert.Equal((ReasonCode.FrostTriggers, 1), (draft.Reason.Code, draft.Reason[ReasonNumber.Covered]));
    }

    [Fact]
    public void The_frost_that_came_ends_the_wait_as_done()
    {
        var shelf = new Shelf();
        var story = Blewit("2025-05-10", 45, tmin: 1);
        shelf.Opens(story.On(153), Frost);
        shelf.Keeps(story.On(154), Frost);
        // The night of day 155 is counted at its end.
        shelf.Closes(story.On(156), Frost, NoticeEnd.Done, ClosingCode.FrostCame);
    }

    [Fact]
    public void A_welcome_frost_that_goes_out_of_the_forecast_is_withdrawn()
    {
        var shelf = new Shelf();
        shelf.Opens(Blewit("2025-05-10", 45, tmin: 1).On(153), Frost);

        shelf.Closes(Blewit("2025-05-10", 45, tmin: 6).On(154), Frost, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }
}
