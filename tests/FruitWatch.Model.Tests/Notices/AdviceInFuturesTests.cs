using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Outlooks;

namespace FruitWatch.Model.Tests.Notices;

// With futures, advice is the course with the better outcome, and quotes both.
public class AdviceInFuturesTests
{
    // Wine cap on chips in a dry May, below its mark about the end of day 4.
    private static BedStory Dry() => new BedStory().Then(60, tmax: 24, tmin: 12);

    // Run through on day 12 by the log; ready on day 30, the species' earliest. A soaking comes on day 34.
    private static BedStory Covered() => new BedStory().Then(34, 18, 12).Then(2, 16, 11, rain: 30).Then(60, 17, 11, rain: 1)
        .Logged(0, d => new CoverChanged(d, Cover.Sheet)).Logged(12, d => new MyceliumSeen(d, 1));

    [Fact]
    public void Water_quotes_the_bad_days_of_both_courses()
    {
        var draft = new Shelf().Opens(Dry().InFutures(5, 8, (_, day) => day), NoticeKind.Water);

        Assert.Equal((double)WhatCounts.Moisture, draft.Reason[ReasonNumber.OutcomeCounts]);
        Assert.Equal(WhatIf.Days - 1, draft.Reason[ReasonNumber.ChanceDays]);
        Assert.True(draft.Reason[ReasonNumber.BadDaysActed] + WhatIf.EvenDays <= draft.Reason[ReasonNumber.BadDaysAlone]);
    }

    [Theory]
    [InlineData(3, true)]
    [InlineData(5, false)]
    public void Water_is_asked_for_when_the_bed_is_dry_in_half_of_its_futures(int wetFutures, bool asked)
    {
        // It rains 20 mm a day in some of the futures: those are not dry.
        var morning = Dry().InFutures(5, 8, (member, day) => member < wetFutures ? day with { Rain = 20 } : day);

        Assert.Equal(asked, new Shelf().Take(morning, NoticeKind.Water) is NoticeOpened);
    }

    [Fact]
    public void Water_that_changes_nothing_is_not_asked_for()
    {
        var morning = Dry().InFutures(5, 8, (_, day) => day);
        var useless = morning.Outlook! with { Watered = morning.Outlook!.Alone };

        Shelf.IsSilent(Dry().On(5, useless), NoticeKind.Water);
        Assert.IsType<NoticeOpened>(new Shelf().Take(Dry().On(5, morning.Outlook), NoticeKind.Water));
    }

    [Fact]
    public void Uncovering_a_ready_bed_quotes_the_chance_of_pins_both_ways()
    {
        var draft = new Shelf().Opens(Covered().InFutures(31, 8, (_, day) => day), NoticeKind.CoverOff);

        Assert.Equal(ReasonCode.ReadyToPin, draft.Reason.Code);
        Assert.Equal((double)WhatCounts.Pins, draft.Reason[ReasonNumber.OutcomeCounts]);
        // Covered, no soaking reaches the bed in any of eight futures; uncovered it does in all: ½/9 and 8½/9.
        Assert.Equal(0.5 / 9, draft.Reason[ReasonNumber.ChanceAlone], 12);
        Assert.Equal(8.5 / 9, draft.Reason[ReasonNumber.ChanceActed], 12);
    }

    [Fact]
    public void A_ready_bed_that_would_lose_pins_uncovered_stays_covered()
    {
        var outlook = Covered().InFutures(31, 8, (_, day) => day).Outlook!;

        Shelf.IsSilent(Covered().On(31, outlook with { Alone = outlook.CoverChanged!, CoverChanged = outlook.Alone }), NoticeKind.CoverOff);
    }

    [Fact]
    public void Covering_is_advised_against_drought_and_quotes_both()
    {
        var story = new BedStory().Then(3, 22, 12, rain: 5).Then(60, tmax: 27, tmin: 13);
        var draft = new Shelf().Opens(story.InFutures(4, 8, (_, day) => day), NoticeKind.CoverOn);

        Assert.Equal(ReasonCode.DryAhead, draft.Reason.Code);
        Assert.True(draft.Reason[ReasonNumber.BadDaysActed] < draft.Reason[ReasonNumber.BadDaysAlone]);
    }

    [Fact]
    public void Pins_are_expected_when_a_third_of_the_futures_have_them_within_ten_days_and_the_chance_is_told()
    {
        var story = new BedStory().Then(34, 18, 12).Then(2, 16, 11, rain: 30).Then(60, 17, 11, rain: 3).Logged(12, d => new MyceliumSeen(d, 1));
        var few = story.InFutures(36, 8, (member, day) => member < 6 ? day with { Tmax = 4, Tmin = 1 } : day);
        var most = story.InFutures(36, 8, (member, day) => member < 3 ? day with { Tmax = 4, Tmin = 1 } : day);

        Shelf.IsSilent(few, NoticeKind.ExpectPins);
        var draft = new Shelf().Opens(most, NoticeKind.ExpectPins);
        Assert.Equal(5.5 / 9, draft.Reason[ReasonNumber.Chance], 12);
        // Five of eight have them: the day by which three of the five do.
        Assert.Equal(most.Outlook!.Alone.Pins.DateOf(3.0 / 8), draft.Day);
        Assert.Equal(most.Outlook.Alone.Pins.DateOf(0.1), draft.From);
        Assert.True(draft.NeedsEatingCaution);
    }

    [Fact]
    public void Notices_of_an_unchanged_bed_in_futures_are_told_once()
    {
        var shelf = new Shelf();
        var morning = Dry().InFutures(5, 8, (_, day) => day);
        shelf.Opens(morning, NoticeKind.Water);

        shelf.Keeps(morning, NoticeKind.Water);
    }
}
