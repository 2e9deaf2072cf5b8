using FruitWatch.Feeds.Fetching;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class HostPatienceTests
{
    private const string Authority = "https://alder-lane.example";

    // 05:59:10 of a day: the full minute is 50 s away, the hour 50 s, the day 18 h and 50 s.
    private readonly FakeTimeProvider time = new(new DateTimeOffset(2026, 5, 5, 5, 59, 10, TimeSpan.Zero));
    private readonly HostPatience patience;

    public HostPatienceTests() => patience = New();

    [Fact]
    public void A_host_that_was_never_refused_has_no_state() => Assert.Null(patience.State);

    [Fact]
    public void Pauses_without_a_wish_grow_from_the_minute_to_the_hour_to_the_day()
    {
        Assert.Equal(Duration.FromSeconds(50), patience.Pause(null));
        Assert.Equal(Duration.FromSeconds(50), patience.Pause(null));
        Assert.Equal(Duration.FromHours(18) + Duration.FromSeconds(50), patience.Pause(null));
        time.Advance(TimeSpan.FromHours(18));
        Assert.Equal(Duration.FromSeconds(50), patience.PauseLeft());
        time.Advance(TimeSpan.FromSeconds(50));
        Assert.Null(patience.PauseLeft());
    }

    [Fact]
    public void An_answer_ends_the_count_of_refusals()
    {
        patience.Pause(null);
        patience.Pause(null);
        patience.Welcome();
        Assert.Equal((0, null), (patience.State!.RefusalsInARow, patience.State.PausedUntil));
    }

    [Fact]
    public void The_rest_begins_with_the_last_of_the_failures_and_lets_one_through_afterwards()
    {
        for (var i = 0; i < 3; i++)
        {
            Assert.Null(patience.RestLeft());
            patience.Settle(failed: true);
        }
        Assert.Equal(Duration.FromMinutes(10), patience.RestLeft());
        time.Advance(TimeSpan.FromMinutes(10));
        Assert.Null(patience.RestLeft());
        Assert.Equal(Duration.FromSeconds(1), patience.RestLeft());
        patience.Forget();
        Assert.Null(patience.RestLeft());
        patience.Settle(failed: false);
        Assert.Null(patience.RestLeft());
        Assert.Equal((0, null), (patience.State!.FailuresInARow, patience.State.RestsUntil));
    }

    [Fact]
    public void What_was_kept_holds_after_a_restart()
    {
        patience.Pause(Duration.FromHours(2));
        for (var i = 0; i < 3; i++)
            patience.Settle(failed: true);

        var restarted = New();
        restarted.Merge(patience.State!);

        Assert.Equal(patience.State, restarted.State);
        Assert.Equal(Duration.FromHours(2), restarted.PauseLeft());
        Assert.Equal(Duration.FromMinutes(10), restarted.RestLeft());
    }

    [Fact]
    public void Of_two_servers_the_later_news_holds()
    {
        patience.Pause(Duration.FromHours(2));
        var earlier = patience.State!;
        time.Advance(TimeSpan.FromSeconds(1));
        patience.Welcome();
        var later = patience.State!;

        patience.Merge(earlier);
        Assert.Equal(later, patience.State);

        var other = New();
        other.Merge(later);
        other.Merge(earlier);
        Assert.Equal(later, other.State);
    }

    private HostPatience New() => new(Authority, 3, TimeSpan.FromMinutes(10), time);
}
