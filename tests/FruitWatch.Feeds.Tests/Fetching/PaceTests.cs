using FruitWatch.Feeds.Fetching;
using Microsoft.Extensions.Time.Testing;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class PaceTests
{
    private readonly FakeTimeProvider time = new();

    [Fact]
    public async Task A_few_go_at_once_and_the_others_at_an_even_pace()
    {
        var pace = new Pace(perSecond: 5, atOnce: 3, time);
        var turns = Enumerable.Range(0, 6).Select(_ => pace.TakeAsync(CancellationToken.None)).ToList();

        await AreDoneAsync(3, turns);
        time.Advance(TimeSpan.FromMilliseconds(199));
        await AreDoneAsync(3, turns);
        time.Advance(TimeSpan.FromMilliseconds(1));
        await AreDoneAsync(4, turns);
        time.Advance(TimeSpan.FromMilliseconds(400));
        await AreDoneAsync(6, turns);
    }

    [Fact]
    public async Task A_quiet_spell_fills_up_what_may_go_at_once_and_no_more()
    {
        var pace = new Pace(perSecond: 5, atOnce: 3, time);
        for (var i = 0; i < 3; i++)
            Assert.True(pace.TakeAsync(CancellationToken.None).IsCompletedSuccessfully);
        time.Advance(TimeSpan.FromHours(5));
        await AreDoneAsync(3, [.. Enumerable.Range(0, 10).Select(_ => pace.TakeAsync(CancellationToken.None))]);
    }

    [Fact]
    public async Task Waiting_may_be_given_up()
    {
        var pace = new Pace(perSecond: 1, atOnce: 1, time);
        await pace.TakeAsync(CancellationToken.None);
        using var patience = new CancellationTokenSource();
        var turn = pace.TakeAsync(patience.Token);
        await patience.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => turn);
    }

    // A wait ends a moment after its timer has fired.
    private static async Task AreDoneAsync(int count, List<Task> turns)
    {
        await Task.WhenAll(turns.Take(count)).WaitAsync(TimeSpan.FromMinutes(1));
        Assert.All(turns.Skip(count), turn => Assert.False(turn.IsCompleted));
    }
}
