using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;

namespace FruitWatch.Model.Tests.Notices;

public class BedMorningTests
{
    [Theory]
    [InlineData(0.3, 12)]
    [InlineData(0.3, 8)]
    [InlineData(0.7, 12)]
    public void The_ground_without_a_cover_is_as_cold_as_the_account_of_an_uncovered_bed_says(double shade, double tmax)
    {
        var story = new BedStory().Then(20, tmax, 0);
        story.Bed = story.Bed with { Shade = shade };
        var morning = story.On(5);

        Assert.Equal(morning.Account.On(morning.Today)!.Value.GroundMin, morning.BareGroundMin(morning.Today));
    }

    [Fact]
    public void What_is_logged_today_counts_this_morning()
    {
        var story = new BedStory().Then(30, 18, 10, rain: 4);
        Assert.Equal(Phase.SpawnRun, story.On(5).Phase);

        story.Logged(5, d => new PinsSeen(d)).Logged(5, d => new CoverChanged(d, Cover.Sheet));
        Assert.Equal(Phase.Growing, story.On(5).Phase);
        Assert.Equal(Cover.Sheet, story.On(5).Cover);
        Assert.Equal(Phase.SpawnRun, story.On(4).Phase);
    }

    [Fact]
    public void Pins_are_waited_for_until_somebody_has_seen_them_and_a_harvest_until_somebody_has_picked()
    {
        // By the account pins form on some day of the wet, mild spell, and nobody says so.
        var story = new BedStory().Then(34, 18, 12).Then(2, 16, 11, rain: 30).Then(40, 17, 11, rain: 3).Logged(12, d => new MyceliumSeen(d, 1));
        var pins = Enumerable.Range(36, 15).First(day => story.On(day).Phase == Phase.Growing);
        Assert.Equal((true, true, 0), Of(story.On(20)));
        Assert.Equal((true, true, 0), Of(story.On(pins)));

        story.Logged(pins, d => new PinsSeen(d));
        Assert.Equal((false, true, 0), Of(story.On(pins + 1)));
        story.Logged(pins + 6, d => new Picked(d, 1));
        Assert.Equal((false, false, 0), Of(story.On(pins + 7)));
        story.Logged(pins + 10, d => new FlushOver(d));
        Assert.Equal((false, false, 1), Of(story.On(pins + 11)));

        static (bool, bool, int) Of(FruitWatch.Model.Notices.BedMorning morning) =>
            (morning.Awaited.Pins, morning.Awaited.Harvest, morning.Awaited.Flushes);
    }
}
