using System.Globalization;
using FruitWatch.Service.Tests.Channels.Email;

namespace FruitWatch.Service.Tests.Killed;

/// <summary>
/// kill -9 in the middle of the work, again and again: whatever the moment, every mail arrives, at most one twice for each kill, and every
/// round is done once. <c>FRUITWATCH_KILLS=200</c> kills as often, <c>FRUITWATCH_KILLS_SEED</c> at other moments, <c>FRUITWATCH_KILLS_REPORT</c>
/// names a file for the figures.
/// </summary>
public sealed class KilledTests
{
    private static readonly TimeSpan s_patience = TimeSpan.FromMinutes(5);

    [Fact]
    public async Task Killed_at_any_moment_nothing_is_lost_and_no_more_doubles_than_kills()
    {
        var kills = Setting("FRUITWATCH_KILLS", 8);
        var random = new Random(Setting("FRUITWATCH_KILLS_SEED", 1));
        await using var store = await KilledStore.MakeAsync(waiting: 20 + (15 * kills), coming: 5 * kills);
        await using var relay = new ScriptedRelay();
        Life? life = null;
        var (left, talks) = (int.MaxValue, 0);
        var killed = new TaskCompletionSource();
        relay.Do = async (_, _) =>
        {
            Interlocked.Increment(ref talks);
            await Task.Delay(TimeSpan.FromMilliseconds(2)); // the relay is no quicker than others
            if (Interlocked.Decrement(ref left) == 0)
            {
                life!.Kill();
                killed.TrySetResult();
            }

            return null;
        };

        for (var i = 0; i < kills; i++)
        {
            killed = new TaskCompletionSource();
            // Mostly after so many lines of the relay, sometimes by the clock: in the start, in a round.
            var byClock = random.Next(4) == 0;
            Volatile.Write(ref left, byClock ? int.MaxValue : random.Next(1, 90));
            var after = byClock ? TimeSpan.FromMilliseconds(random.Next(300, 4000)) : TimeSpan.FromSeconds(15);
            using (life = Life.Begin(store, relay.Port))
            {
                // Where fewer mails are left than lines were drawn, the clock kills.
                await Task.WhenAny(killed.Task, Task.Delay(after));
                life.Kill();
            }
        }

        Volatile.Write(ref left, int.MaxValue);
        var lives = await FinishAsync(store, relay);

        await store.AssertWholeAsync();
        var doubles = await store.DoublesAsync(relay.Contents);
        Assert.InRange(doubles.Count, 0, kills);
        var due = await store.DueAsync();
        await ReportAsync(
            $"kills {kills}, mails due {due.Count}, lost 0, copies too many {doubles.Count}, rounds {KilledStore.Sites}, lines of the relay {talks}, lives to finish {lives}");
    }

    /// <summary>Test 1 of two servers on one database, which is PostgreSQL: SQLite is for one.</summary>
    [Fact]
    public async Task One_of_two_servers_killed_again_and_again_the_other_goes_on_and_nothing_is_lost()
    {
        var kills = Setting("FRUITWATCH_KILLS", 6);
        var random = new Random(Setting("FRUITWATCH_KILLS_SEED", 1));
        await using var store = await KilledStore.MakeAsync(waiting: 20 + (30 * kills), coming: 10 * kills, "postgres");
        await using var relay = new ScriptedRelay();
        relay.Do = async (_, _) =>
        {
            await Task.Delay(TimeSpan.FromMilliseconds(4));
            return null;
        };
        // Longer than any mail takes: a claim that runs out is that of a server that died.
        var lease = TimeSpan.FromSeconds(8);
        Life[] lives = [Life.Begin(store, relay.Port, lease), Life.Begin(store, relay.Port, lease)];
        try
        {
            for (var i = 0; i < kills; i++)
            {
                var which = random.Next(2);
                await Task.Delay(TimeSpan.FromMilliseconds(random.Next(1000, 4000)));
                lives[which].Kill();
                lives[which].Dispose();
                lives[which] = Life.Begin(store, relay.Port, lease);
            }

            // What the last one had claimed is taken up at the next look at the outbox, by either: at a start, at the latest.
            await ReadyAsync(lives[0]);
            await ReadyAsync(lives[1]);
            await Task.Delay(lease);
            foreach (var life in lives)
                await EndAsync(life);
        }
        finally
        {
            foreach (var life in lives)
                life.Dispose();
        }

        var more = await FinishAsync(store, relay);
        await store.AssertWholeAsync();
        var doubles = await store.DoublesAsync(relay.Contents);
        Assert.InRange(doubles.Count, 0, kills);
        await ReportAsync($"two servers, kills {kills}, mails due {(await store.DueAsync()).Count}, lost 0, copies too many {doubles.Count}, lives to finish {more}");
    }

    [Fact]
    public async Task Killed_at_each_named_point_only_a_mail_whose_content_had_left_comes_twice()
    {
        await using var store = await KilledStore.MakeAsync(waiting: 60, coming: 0);
        await using var relay = new ScriptedRelay();
        var doubtful = new List<string>();

        // 1: before a round is committed. 2: after. 3: after the digests are, before a mail is begun.
        await using (await store.StallRoundsAsync())
        {
            await LiveAsync(store, relay, async life =>
            {
                await UntilAsync(store.IsBusyAsync);
                life.Kill();
            }, silent: true);
        }

        Assert.Equal(0, await store.RoundsAsync());
        await LiveAsync(store, relay, async _ => await UntilAsync(async () => await store.RoundsAsync() > 0), silent: true);
        await LiveAsync(store, relay, async _ => await UntilAsync(async () => await store.DigestsAsync() > 0), silent: true);
        Assert.Empty(relay.Contents);

        // 4 to 8: claimed and committed, and at each verb before the content.
        foreach (var point in new[] { At.Greeting, At.Hello, At.From, At.To, At.Data })
            await KillAtAsync(store, relay, point);
        Assert.Empty(relay.Contents);

        // 9: the content is there, the answer is not. 10: answered, not yet recorded. Nobody can know.
        await KillAtAsync(store, relay, At.Dot);
        await UntilAsync(() => Task.FromResult(relay.Contents.Count == 1));
        doubtful.Add(relay.Contents.Last().MessageId);
        await KillAtAsync(store, relay, At.Dot, freeze: true);
        await UntilAsync(() => Task.FromResult(relay.Contents.Count == 2));
        doubtful.Add(relay.Contents.Last().MessageId);

        // 11: recorded and committed, the next begun. 12: when all is said.
        await KillAtAsync(store, relay, At.From, skip: 1);
        await KillAtAsync(store, relay, At.Quit);

        await FinishAsync(store, relay);
        await store.AssertWholeAsync();
        Assert.Empty((await store.DoublesAsync(relay.Contents)).Except(doubtful));
        Assert.InRange((await store.DoublesAsync(relay.Contents)).Count, 0, doubtful.Count);
    }

    [Fact]
    public async Task Told_to_stop_it_finishes_the_mail_under_way_gives_back_the_rest_and_says_that_all_is_well()
    {
        await using var store = await KilledStore.MakeAsync(waiting: 30, coming: 0);
        await using var relay = new ScriptedRelay();
        var arrived = new TaskCompletionSource();
        var go = new TaskCompletionSource();
        relay.Do = async (point, _) =>
        {
            if (point != At.Dot || relay.Contents.Count < 5)
                return null;
            arrived.TrySetResult();
            await go.Task;
            return null;
        };
        using var life = Life.Begin(store, relay.Port);
        await arrived.Task.WaitAsync(s_patience);

        await ReadyAsync(life);

        var ending = EndAsync(life);
        await Task.Delay(500);
        go.SetResult();

        await ending;
        var states = await store.StatesAsync();
        Assert.False(states.ContainsKey(Store.Entities.MailState.Sending), life.Output);
        Assert.Equal(relay.Contents.Count, states[Store.Entities.MailState.Sent]);
        await FinishAsync(store, relay);
        Assert.Empty(await store.DoublesAsync(relay.Contents));
    }

    /// <summary>A life that is killed after something has been waited for.</summary>
    private static async Task LiveAsync(KilledStore store, ScriptedRelay relay, Func<Life, Task> during, bool silent = false)
    {
        relay.Do = (_, _) => Task.FromResult(silent ? new Trick(Silent: true) : null);
        using var life = Life.Begin(store, relay.Port);
        await during(life);
        life.Kill();
    }

    /// <summary>A life that is killed when the relay hears something.</summary>
    private static async Task KillAtAsync(KilledStore store, ScriptedRelay relay, At at, int skip = 0, bool freeze = false)
    {
        var killed = new TaskCompletionSource();
        Life? life = null;
        relay.Do = async (point, whom) =>
        {
            if (point != at || killed.Task.IsCompleted || Interlocked.Decrement(ref skip) >= 0)
                return null;
            if (!freeze)
            {
                life!.Kill();
                killed.TrySetResult();
                return new Trick(HangUp: true);
            }

            // It hears nothing any more, and is answered.
            life!.Freeze();
            _ = Task.Run(async () =>
            {
                await Task.Delay(100);
                life!.Kill();
                killed.TrySetResult();
            });
            return null;
        };
        using (life = Life.Begin(store, relay.Port))
            await killed.Task.WaitAsync(s_patience);
    }

    /// <summary>Lives that are told to stop in good order, until nothing is left to do.</summary>
    private static async Task<int> FinishAsync(KilledStore store, ScriptedRelay relay)
    {
        relay.Do = (_, _) => Task.FromResult<Trick?>(null);
        for (var lives = 1; ; lives++)
        {
            using var life = Life.Begin(store, relay.Port);
            await ReadyAsync(life);
            var (came, quiet) = (-1, 0);
            while (await store.LeftAsync() > 0 && quiet < 80)
            {
                await Task.Delay(100);
                quiet = relay.Contents.Count == came ? quiet + 1 : 0;
                came = relay.Contents.Count;
                Assert.False(life.HasEnded, life.Output);
            }

            await EndAsync(life);
            if (await store.LeftAsync() == 0)
                return lives;
            Assert.InRange(lives, 1, 20);
        }
    }

    /// <summary>Before that it is not yet the program's own business to hear of SIGTERM.</summary>
    private static Task ReadyAsync(Life life) => UntilAsync(() => life.IsReady || life.HasEnded ? Task.FromResult(true) : Task.FromResult(false));

    private static async Task EndAsync(Life life)
    {
        var code = await life.TerminateAsync(s_patience);
        Assert.True(code == 0, $"It ended with {code}: {life.Output}");
    }

    private static async Task UntilAsync(Func<Task<bool>> come)
    {
        using var limit = new CancellationTokenSource(s_patience);
        while (!await come())
            await Task.Delay(5, limit.Token);
    }

    private static async Task ReportAsync(FormattableString figures)
    {
        var report = FormattableString.Invariant(figures);
        TestContext.Current.TestOutputHelper?.WriteLine(report);
        if (Environment.GetEnvironmentVariable("FRUITWATCH_KILLS_REPORT") is { Length: > 0 } file)
            await File.AppendAllTextAsync(file, report + "\n");
    }

    private static int Setting(string name, int usual) =>
        int.TryParse(Environment.GetEnvironmentVariable(name), NumberStyles.None, CultureInfo.InvariantCulture, out var value) ? value : usual;
}
