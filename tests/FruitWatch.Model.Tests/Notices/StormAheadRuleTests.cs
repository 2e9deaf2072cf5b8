using FruitWatch.Model.Beds;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Notices;

public class StormAheadRuleTests
{
    private const NoticeKind Storm = NoticeKind.StormAhead;

    private static BedStory Windy(int calm, double? wind, int days = 1)
    {
        var story = new BedStory().Logged(0, d => new CoverChanged(d, Cover.Sheet)).Then(calm, 18, 9);
        for (var day = 0; day < days; day++)
            story.Then(new WeatherDay(default, 16, 9, 0) { Wind = wind });
        return story.Then(40, 18, 9);
    }

    [Fact]
    public void A_storm_tomorrow_on_a_covered_bed_is_urgent()
    {
        var morning = Windy(calm: 21, wind: 7).On(20);
        var draft = new Shelf().Opens(morning, Storm);

        Assert.Equal((morning.Today.PlusDays(1), morning.Today, true), (draft.Day, draft.Deadline, draft.Urgent));
        Assert.Equal(7, draft.Reason[ReasonNumber.Wind]);
    }

    [Fact]
    public void Two_days_off_it_is_told_without_haste_and_again_on_the_eve()
    {
        var shelf = new Shelf();
        Assert.False(shelf.Opens(Windy(calm: 22, wind: 7).On(20), Storm).Urgent);
        Assert.True(Assert.IsType<NoticeRevised>(shelf.Take(Windy(calm: 22, wind: 7).On(21), Storm)).Draft.Urgent);
        shelf.Keeps(Windy(calm: 22, wind: 7).On(22), Storm);
    }

    [Fact]
    public void A_bed_without_a_cover_has_none() =>
        Shelf.IsSilent(Windy(calm: 21, wind: 9).Logged(19, d => new CoverChanged(d, Cover.None)).On(20), Storm);

    [Theory]
    [InlineData(5.9)]
    [InlineData(null)]
    public void Less_wind_and_wind_that_is_not_known_are_none(double? wind) => Shelf.IsSilent(Windy(calm: 21, wind).On(20), Storm);

    [Fact]
    public void It_is_done_when_the_cover_is_off_and_withdrawn_when_the_forecast_is_calmer()
    {
        var done = new Shelf();
        done.Opens(Windy(calm: 22, wind: 7).On(21), Storm);
        done.Closes(Windy(calm: 22, wind: 7).Logged(21, d => new CoverChanged(d, Cover.None)).On(21), Storm, NoticeEnd.Done, ClosingCode.Uncovered);

        var turned = new Shelf();
        turned.Opens(Windy(calm: 22, wind: 7).On(21), Storm);
        turned.Keeps(Windy(calm: 22, wind: 5.4).On(21), Storm);
        turned.Closes(Windy(calm: 22, wind: 5.2).On(21), Storm, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged);
    }

    [Fact]
    public void A_fresh_breeze_at_ten_metres_is_the_wind_that_counts()
    {
        // Beaufort 5 begins at 8.0 m/s (WMO-No. 306, code table 1805); FAO-56 eq. 47 brings it to 2 m.
        Assert.Equal(StormAheadRule.StormyDay, ReferenceEvapotranspiration.WindAtTwoMetres(8.0, 10), 0.05);
    }
}
