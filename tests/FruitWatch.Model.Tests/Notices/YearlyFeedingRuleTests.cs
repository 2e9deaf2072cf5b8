using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

public class YearlyFeedingRuleTests
{
    private const NoticeKind Feeding = NoticeKind.YearlyFeeding;

    private static BedStory Story(string inoculated = "2024-05-01", double latitude = 45) =>
        new BedStory(inoculated: inoculated, latitude: latitude).Then(900, 12, 3, rain: 2);

    private static ToppedUp Chips(NodaTime.LocalDate date) => new(date, BedCatalogue.BuiltIn.Materials["hardwood-chips"], 0.05);

    [Theory]
    [InlineData("2024-05-01", 45)]
    [InlineData("2023-11-01", -45)]
    public void A_year_after_the_bed_was_laid_it_is_to_be_fed(string inoculated, double latitude)
    {
        var story = Story(inoculated, latitude);
        var year = NodaTime.Period.DaysBetween(story.DayAt(0), story.DayAt(0).PlusYears(1));

        Shelf.IsSilent(story.On(year - 1), Feeding);
        Assert.Equal(year, new Shelf().Opens(story.On(year), Feeding).Reason[ReasonNumber.Days]);
    }

    [Fact]
    public void Fresh_material_puts_it_off_for_a_year()
    {
        var story = Story().Logged(300, Chips);

        Shelf.IsSilent(story.On(365), Feeding);
        new Shelf().Opens(story.On(665), Feeding);
    }

    [Fact]
    public void A_flush_comes_first_but_does_not_withdraw_it()
    {
        var flush = Story().Logged(364, d => new PinsSeen(d));
        Shelf.IsSilent(flush.On(365), Feeding);

        var shelf = new Shelf();
        shelf.Opens(Story().On(365), Feeding);
        shelf.Keeps(Story().Logged(366, d => new PinsSeen(d)).On(367), Feeding);
    }

    [Fact]
    public void Topping_up_ends_it_as_done()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(365), Feeding);

        shelf.Closes(Story().Logged(370, Chips).On(370), Feeding, NoticeEnd.Done, ClosingCode.ToppedUp);
    }

    [Fact]
    public void After_six_weeks_it_lapses_and_is_not_asked_again_before_the_next_year()
    {
        var shelf = new Shelf();
        shelf.Opens(Story().On(365), Feeding);
        shelf.Keeps(Story().On(365 + 42), Feeding);
        shelf.Closes(Story().On(365 + 43), Feeding, NoticeEnd.Lapsed, ClosingCode.DayPassed);

        Assert.Null(shelf.Take(Story().On(500), Feeding));
        Assert.Null(shelf.Take(Story().On(729), Feeding));
        shelf.Opens(Story().On(730), Feeding);
    }
}
