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
}
