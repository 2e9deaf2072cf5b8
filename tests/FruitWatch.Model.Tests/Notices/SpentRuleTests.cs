using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

// Straw gives three flushes and is spent after the rest that follows the third.
public class SpentRuleTests
{
    private const NoticeKind Spent = NoticeKind.Spent;

    private static BedStory Story()
    {
        var story = new BedStory("oyster-warm", "cereal-straw").Then(200, 28, 18, rain: 5);
        foreach (var day in new[] { 10, 40, 70 })
            story.Logged(day, d => new Picked(d, 1)).Logged(day + 1, d => new FlushOver(d));
        return story;
    }

    private static int FirstSpent()
    {
        var days = Story().On(150).Account.Days;
        return Enumerable.Range(0, days.Count).First(i => days[i].Phase == Phase.Spent);
    }

    [Fact]
    public void A_filling_that_gave_its_flushes_is_told_once()
    {
        var day = FirstSpent() + 1;
        Shelf.IsSilent(Story().On(day - 1), Spent);
        var shelf = new Shelf();
        var draft = shelf.Opens(Story().On(day), Spent);

        Assert.Equal(3, draft.Reason[ReasonNumber.Flushes]);
        shelf.Keeps(Story().On(day + 1), Spent);
    }

    [Fact]
    public void It_is_not_told_to_a_grower_who_said_so() =>
        Shelf.IsSilent(Story().Logged(72, d => new BedSpent(d)).On(73), Spent);

    [Fact]
    public void Topping_up_ends_it_as_done()
    {
        var day = FirstSpent() + 1;
        var shelf = new Shelf();
        shelf.Opens(Story().On(day), Spent);

        var straw = BedCatalogue.BuiltIn.Materials["cereal-straw"];
        shelf.Closes(Story().Logged(day + 2, d => new ToppedUp(d, straw, 0.1)).On(day + 2), Spent, NoticeEnd.Done, ClosingCode.ToppedUp);
    }

    [Fact]
    public void Giving_the_bed_up_ends_it_as_done()
    {
        var day = FirstSpent() + 1;
        var shelf = new Shelf();
        shelf.Opens(Story().On(day), Spent);

        shelf.Closes(Story().Logged(day + 2, d => new BedSpent(d)).On(day + 2), Spent, NoticeEnd.Done, ClosingCode.BedSpent);
    }

    [Fact]
    public void A_month_later_it_lapses_for_good()
    {
        var day = FirstSpent() + 1;
        var shelf = new Shelf();
        shelf.Opens(Story().On(day), Spent);
        shelf.Closes(Story().On(day + 31), Spent, NoticeEnd.Lapsed, ClosingCode.DayPassed);

        Assert.Null(shelf.Take(Story().On(day + 60), Spent));
    }

    [Fact]
    public void A_spent_bed_gets_no_other_notice_and_those_open_are_withdrawn()
    {
        var story = new BedStory().Then(60, 24, 12);
        var shelf = new Shelf();
        shelf.Opens(story.On(5), NoticeKind.Water);

        var given = story.Logged(6, d => new BedSpent(d)).On(6);
        Assert.All(shelf.Take(given), outcome =>
            Assert.Equal((NoticeEnd.Withdrawn, ClosingCode.BedSpent), (Assert.IsType<NoticeClosed>(outcome).How, ((NoticeClosed)outcome).Why)));
        Assert.Empty(shelf.Open);
        Assert.Empty(shelf.Take(story.On(20)));
    }
}
