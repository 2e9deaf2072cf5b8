using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

public class WeeklyCheckRuleTests
{
    private const NoticeKind Check = NoticeKind.WeeklyCheck;

    private static BedStory Story() => new BedStory().Then(90, 18, 10, rain: 4);

    [Fact]
    public void Seven_days_after_the_bed_was_laid_it_is_to_be_looked_at()
    {
        Shelf.IsSilent(Story().On(6), Check);
        var draft = new Shelf().Opens(Story().On(7), Check);

        Assert.Equal(7, draft.Reason[ReasonNumber.Days]);
        Assert.Equal(draft.Day.PlusDays(3), draft.Deadline);
    }

    [Fact]
    public void Whatever_was_logged_counts_as_a_look()
    {
        var story = Story().Logged(5, d => new ContaminationSeen(d));

        Shelf.IsSilent(story.On(11), Check);
        new Shelf().Opens(story.On(12), Check);
    }

    [Fact]
    public void A_rain_gauge_reading_is_no_look_at_the_bed() =>
        new Shelf().Opens(Story().Logged(5, d => new GaugeReading(d, 3)).On(7), Check);

    [Fact]
    public void A_look_ends_it_as_done_and_the_next_is_asked_for_a_week_later()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(7), Check);
        var seen = Story().Logged(8, d => new SqueezeTest(d, Squeeze.Right));
        shelf.Closes(seen.On(8), Check, NoticeEnd.Done, ClosingCode.Logged);

        Assert.Null(shelf.Take(seen.On(14), Check));
        shelf.Opens(seen.On(15), Check);
    }

    [Fact]
    public void A_look_that_nobody_took_lapses_and_is_asked_for_again_the_next_week()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(7), Check);
        for (var day = 8; day <= 10; day++)
            shelf.Keeps(Story().On(day), Check);
        shelf.Closes(Story().On(11), Check, NoticeEnd.Lapsed, ClosingCode.DayPassed);

        Assert.Null(shelf.Take(Story().On(13), Check));
        Assert.Equal(14, shelf.Opens(Story().On(14), Check).Reason[ReasonNumber.Days]);
    }
}
