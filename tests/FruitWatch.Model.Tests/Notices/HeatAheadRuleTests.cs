using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

public class HeatAheadRuleTests
{
    private const NoticeKind Heat = NoticeKind.HeatAhead;

    private static BedStory Hot(int mild, double tmax, int days = 1) =>
        new BedStory().Then(mild, 22, 12, rain: 4).Then(days, tmax, 16).Then(40, 22, 12, rain: 4);

    [Fact]
    public void Heat_tomorrow_on_an_uncovered_young_bed_is_urgent()
    {
        var morning = Hot(mild: 21, tmax: 32).On(20);
        var draft = new Shelf().Opens(morning, Heat);

        Assert.Equal(ReasonCode.HeatOnYoungSpawn, draft.Reason.Code);
        Assert.Equal(morning.Today.PlusDays(1), draft.Day);
        Assert.Equal(morning.Today, draft.Deadline);
        Assert.True(draft.Urgent);
        Assert.Equal(32, draft.Reason[ReasonNumber.Tmax]);
        Assert.Equal(21, draft.Reason[ReasonNumber.Days]);
    }

    [Fact]
    public void Two_days_off_it_is_told_without_haste_and_again_on_the_eve()
    {
        var shelf = new Shelf();
        Assert.False(shelf.Opens(Hot(mild: 22, tmax: 32).On(20), Heat).Urgent);

        Assert.True(Assert.IsType<NoticeRevised>(shelf.Take(Hot(mild: 22, tmax: 32).On(21), Heat)).Draft.Urgent);
        shelf.Keeps(Hot(mild: 22, tmax: 32).On(22), Heat);
    }

    [Fact]
    public void Below_thirty_degrees_there_is_none() => Shelf.IsSilent(Hot(mild: 21, tmax: 29.5).On(20), Heat);

    [Fact]
    public void A_covered_bed_has_none() =>
        Shelf.IsSilent(Hot(mild: 21, tmax: 32).Logged(19, d => new CoverChanged(d, Cover.Sheet)).On(20), Heat);

    [Fact]
    public void Spawn_of_sixty_days_is_not_young_any_more()
    {
        // 35 days' worth of spawn run only, at 12 °C: still running on day 60.
        var story = new BedStory().Then(59, 15, 9, rain: 4).Then(2, 32, 16).Then(20, 20, 12);

        new Shelf().Opens(story.On(58), Heat);
        Shelf.IsSilent(story.On(60), Heat);
    }

    [Fact]
    public void A_bed_that_itself_comes_within_two_degrees_of_its_harm_is_told_under_a_cover_too()
    {
        // Wine cap is harmed at 34 °C in the bed.
        var story = new BedStory().Then(40, 39, 27).Logged(0, d => new CoverChanged(d, Cover.Sheet));
        var draft = new Shelf().Opens(story.On(18), Heat);

        Assert.Equal(ReasonCode.BedNearHarm, draft.Reason.Code);
        Assert.True(draft.Reason[ReasonNumber.BedTemperature] >= 32);
        Assert.Equal(34, draft.Reason[ReasonNumber.HarmTemperature]);
        Assert.False(draft.Urgent);
    }

    [Fact]
    public void Covering_it_ends_it_as_done()
    {
        var shelf = new Shelf();
        shelf.Opens(Hot(mild: 21, tmax: 32).On(20), Heat);

        shelf.Closes(Hot(mild: 21, tmax: 32).Logged(20, d => new CoverChanged(d, Cover.Sheet)).On(20), Heat, NoticeEnd.Done, ClosingCode.Covered);
    }

    [Fact]
    public void A_cooler_forecast_withdraws_it_but_one_degree_does_not()
    {
        var shelf = new Shelf();
        shelf.Opens(Hot(mild: 21, tmax: 32).On(20), Heat);

        shelf.Keeps(Hot(mild: 21, tmax: 29.5).On(20), Heat);
        shelf.Closes(Hot(mild: 21, tmax: 26).On(20), Heat, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    [Fact]
    public void The_day_after_it_lapses()
    {
        var shelf = new Shelf();
        shelf.Opens(Hot(mild: 21, tmax: 32).On(20), Heat);
        shelf.Keeps(Hot(mild: 21, tmax: 32).On(21), Heat);

        shelf.Closes(Hot(mild: 21, tmax: 32).On(22), Heat, NoticeEnd.Lapsed, ClosingCode.DayPassed);
    }

    [Fact]
    public void A_week_of_heat_is_told_once()
    {
        var shelf = new Shelf();
        shelf.Opens(Hot(mild: 21, tmax: 32, days: 7).On(20), Heat);

        for (var day = 21; day <= 27; day++)
            shelf.Keeps(Hot(mild: 21, tmax: 32, days: 7).On(day), Heat);
    }

    [Fact]
    public void A_new_hot_spell_within_sight_of_the_old_one_is_told_again()
    {
        var shelf = new Shelf();
        var story = new BedStory().Then(21, 22, 12, rain: 4).Then(1, 32, 16).Then(1, 24, 12).Then(1, 33, 16).Then(20, 22, 12, rain: 4);
        shelf.Opens(story.On(20), Heat);
        shelf.Keeps(story.On(21), Heat);

        Assert.Equal(33, Assert.IsType<NoticeRevised>(shelf.Take(story.On(22), Heat)).Draft.Reason[ReasonNumber.Tmax]);
    }
}
