using FruitWatch.Service.Weather.Past;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Tests.Weather;

public sealed class BackfillTests
{
    private static readonly LocalDate s_begins = new(2019, 3, 1);

    [Fact]
    public async Task Past_years_come_a_year_at_a_time_the_latest_first_and_end_where_the_archive_begins()
    {
        await using var run = await WeatherRun.StartAsync();
        var (site, feed) = await ArchiveAsync(run);

        var asked = new List<(LocalDate First, LocalDate Last)>();
        for (var i = 0; i < 12; i++)
        {
            await run.PastAsync();
            run.Clock.AdvanceMinutes(2);
        }

        asked.AddRange(run.Server.Requests.Skip(1).Select(DaysOf));
        Assert.All(asked, stretch => Assert.InRange(Period.DaysBetween(stretch.First, stretch.Last), 0, 399));
        // Each stretch goes on right before the last one.
        Assert.All(asked.Zip(asked.Skip(1)), pair => Assert.Equal(pair.First.First.PlusDays(-1), pair.Second.Last));
        var weather = await run.WeatherAsync(site);
        Assert.Equal(s_begins, weather[0].Date);
        Assert.Equal(Period.DaysBetween(s_begins, run.Today), weather.Count);
        var fill = await FillAsync(run);
        Assert.Equal(BackfillState.Done, fill.State);
        Assert.Contains("nothing", fill.Problem!, StringComparison.Ordinal);
        Assert.Equal(weather.Count - 14, fill.DaysKept);
        Assert.Equal(asked.Count, fill.Requests);
    }

    [Fact]
    public async Task A_stretch_that_was_cut_short_is_asked_for_again_and_no_day_is_lost_or_doubled()
    {
        await using var run = await WeatherRun.StartAsync();
        var (site, _) = await ArchiveAsync(run);
        await run.PastAsync();
        var kept = (await run.WeatherAsync(site)).Count;

        using var kill = new CancellationTokenSource();
        run.Server.Answer(0, async context =>
        {
            await kill.CancelAsync();
            await Task.Delay(500);
            await AnswerAsync(context);
        });
        run.Clock.AdvanceMinutes(2);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => run.PastAsync(kill.Token));
        Assert.Equal(kept, (await run.WeatherAsync(site)).Count);

        // Another server does not take it while the lease of the one that died holds; afterwards it does.
        await run.RestartAsync();
        run.Server.Answer(0, AnswerAsync);
        var before = run.Server.RequestsOf(0);
        await run.PastAsync();
        Assert.Equal(before, run.Server.RequestsOf(0));
        run.Clock.AdvanceMinutes(15);
        await run.PastAsync();
        Assert.Equal(before + 1, run.Server.RequestsOf(0));
        Assert.Equal(DaysOf(run.Server.Requests[^2]), DaysOf(run.Server.Requests[^1]));
        Assert.Equal(kept + 365, (await run.WeatherAsync(site)).Count);
    }

    [Fact]
    public async Task A_host_is_asked_for_one_stretch_in_a_minute_whatever_number_of_sites_wait()
    {
        await using var run = await WeatherRun.StartAsync();
        var (_, feed) = await ArchiveAsync(run);
        var other = await run.SiteAsync("Mill", archive: feed, latitude: 41);
        await run.PullAsync(other);
        var before = run.Server.RequestsOf(0);

        Assert.Equal(1, await run.PastAsync());
        Assert.Equal(before + 1, run.Server.RequestsOf(0));
        await run.PastAsync();
        Assert.Equal(before + 1, run.Server.RequestsOf(0));
        run.Clock.AdvanceSeconds(61);
        await run.PastAsync();
        Assert.Equal(before + 2, run.Server.RequestsOf(0));
    }

    [Fact]
    public async Task It_can_be_halted_and_go_on_and_reach_further_back()
    {
        await using var run = await WeatherRun.StartAsync();
        var (site, feed) = await ArchiveAsync(run);
        await run.PastAsync();
        await using var store = run.Store();
        await Backfills.HaltAsync(store, site.Id, feed.Id, TestContext.Current.CancellationToken);
        var halted = await FillAsync(run);
        run.Clock.AdvanceMinutes(2);
        await run.PastAsync();
        Assert.Equal(halted.Requests, (await FillAsync(run)).Requests);

        await run.Services.GetRequiredService<Backfills>()
            .StartAsync(store, site, feed.Id, run.Today.PlusYears(-20), TestContext.Current.CancellationToken);
        run.Clock.AdvanceMinutes(2);
        await run.PastAsync();
        var on = await FillAsync(run);
        Assert.Equal((BackfillState.Running, run.Today.PlusYears(-20), halted.Requests + 1), (on.State, on.First, on.Requests));
        Assert.Equal(halted.Next.PlusDays(-365), on.Next);
    }

    [Fact]
    public async Task A_failing_stretch_waits_longer_each_time_and_one_refused_for_good_is_stuck()
    {
        await using var run = await WeatherRun.StartAsync();
        await ArchiveAsync(run);
        run.Server.Answer(0, Status(500));
        await run.PastAsync();
        var fill = await FillAsync(run);
        Assert.Equal((BackfillState.Running, 1), (fill.State, fill.FailuresInARow));
        Assert.True(fill.NextTryAt > run.Clock.GetCurrentInstant() + Duration.FromMinutes(14));

        run.Server.Answer(0, Status(401));
        run.Clock.AdvanceHours(2);
        await run.PastAsync();
        fill = await FillAsync(run);
        Assert.Equal(BackfillState.Stuck, fill.State);
        Assert.False(string.IsNullOrEmpty(fill.Problem));
    }

    [Fact]
    public async Task A_file_of_all_years_is_asked_for_once()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => WeatherRun.Days(s_begins, run.Today.PlusDays(-1)));
        var feed = await run.FeedAsync(0, "history", every: "P1D");
        var site = await run.SiteAsync("Lane", archive: feed);
        await run.PullAsync(site);
        run.Clock.AdvanceMinutes(2);
        await run.PastAsync();

        Assert.Equal(1, run.Server.RequestsOf(0));
        Assert.Equal(BackfillState.Done, (await FillAsync(run)).State);
        Assert.Equal(s_begins, (await run.WeatherAsync(site))[0].Date);
    }

    private static async Task<(Site Site, Feed Feed)> ArchiveAsync(WeatherRun run)
    {
        run.Server.Answer(0, AnswerAsync);
        var feed = await run.FeedAsync(0, "history", query: "?latitude={latitude}&start={start}&end={end}", every: "P1D", back: 400);
        var site = await run.SiteAsync("Lane", archive: feed);
        Assert.Equal("ok", (await run.PullAsync(site)).State);
        await using (var store = run.Store())
        {
            // As if fourteen days were all that the first pull had asked for.
            var first = run.Today.PlusDays(-14);
            await store.Weather.Where(day => day.Date < first).ExecuteDeleteAsync();
        }

        run.Clock.AdvanceMinutes(2);
        return (site, feed);
    }

    private static async Task AnswerAsync(HttpContext context)
    {
        var (first, last) = DaysOf(context.Request.QueryString.Value!);
        context.Response.ContentType = "application/json";
        if (last < s_begins)
            context.Response.StatusCode = 404;
        else
            await context.Response.WriteAsync(WeatherRun.Days(LocalDate.Max(first, s_begins), last));
    }

    private static (LocalDate First, LocalDate Last) DaysOf(FeedServer.Asked asked) => DaysOf(asked.Address[asked.Address.IndexOf('?', StringComparison.Ordinal)..]);

    private static (LocalDate First, LocalDate Last) DaysOf(string query)
    {
        var values = QueryHelpers.ParseQuery(query);
        return (LocalDatePattern.Iso.Parse(values["start"].ToString()).Value, LocalDatePattern.Iso.Parse(values["end"].ToString()).Value);
    }

    private static async Task<Backfill> FillAsync(WeatherRun run)
    {
        await using var store = run.Store();
        return await store.Backfills.AsNoTracking().OrderBy(fill => fill.SiteId).FirstAsync(TestContext.Current.CancellationToken);
    }

    private static RequestDelegate Status(int status) => context =>
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    };
}
