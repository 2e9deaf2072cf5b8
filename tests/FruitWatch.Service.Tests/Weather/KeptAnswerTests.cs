using FruitWatch.Feeds;
using FruitWatch.Service.Weather;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Weather;

/// <summary>When a feed is asked, when its kept answer does, and what is kept of it.</summary>
public sealed class KeptAnswerTests
{
    [Fact]
    public async Task Sites_of_one_place_share_an_answer_and_each_keeps_its_days()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => run.Forecast());
        var feed = await run.FeedAsync(0, query: "?latitude={latitude}");
        var lane = await run.SiteAsync("Lane", feed, latitude: 43.20001);
        var mill = await run.SiteAsync("Mill", feed, latitude: 43.20004);
        var far = await run.SiteAsync("Far", feed, latitude: 41);

        await Task.WhenAll(run.PullAsync(lane), run.PullAsync(mill), run.PullAsync(far));

        Assert.Equal(2, run.Server.RequestsOf(0));
        Assert.Equal(7, (await run.WeatherAsync(lane)).Count);
        Assert.Equal(7, (await run.WeatherAsync(mill)).Count);
        Assert.Equal((await run.ToldAsync(lane, feed)).LastGoodAt, (await run.ToldAsync(mill, feed)).LastGoodAt);
    }

    [Fact]
    public async Task Two_servers_at_once_ask_at_most_once_more_and_neither_fails()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => run.Forecast());
        var feed = await run.FeedAsync(0);
        var site = await run.SiteAsync("Lane", feed);
        await using var second = run.SecondServer();

        var pulled = await Task.WhenAll(run.PullAsync(site), run.PullAsync(site, server: second));

        Assert.All(pulled, one => Assert.Equal(("ok", ""), (one.State, one.Note)));
        Assert.InRange(run.Server.RequestsOf(0), 1, 2);
        await using var store = run.Store();
        Assert.Equal(1, await store.FeedAnswers.CountAsync());
        Assert.Equal(1, await store.Forecasts.CountAsync());
    }

    [Fact]
    public async Task An_answer_is_used_while_it_is_fresh_and_then_asked_for_by_its_tag()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, async context =>
        {
            context.Response.Headers.ETag = "\"v1\"";
            context.Response.ContentType = "application/json";
            if (context.Request.Headers.IfNoneMatch == "\"v1\"")
                context.Response.StatusCode = 304;
            else
                await context.Response.WriteAsync(run.Forecast());
        });
        var feed = await run.FeedAsync(0, conditional: "etag");
        var site = await run.SiteAsync("Lane", feed);

        await run.PullAsync(site);
        run.Clock.AdvanceMinutes(40);
        await run.PullAsync(site);
        Assert.Equal(1, run.Server.RequestsOf(0));
        Assert.Equal(WeatherRun.Start, (await run.ToldAsync(site, feed)).LastGoodAt);

        run.Clock.AdvanceMinutes(40);
        Assert.Equal("ok", (await run.PullAsync(site)).State);

        Assert.Equal("\"v1\"", run.Server.Requests[^1].IfNoneMatch);
        Assert.Equal(run.Clock.GetCurrentInstant(), (await run.ToldAsync(site, feed)).LastGoodAt);
        await using var store = run.Store();
        var kept = await store.FeedAnswers.AsNoTracking().SingleAsync(TestContext.Current.CancellationToken);
        Assert.Equal((WeatherRun.Start, run.Clock.GetCurrentInstant()), (kept.FetchedAt, kept.CheckedAt));
        var answer = (await FeedAnswers.ReadAsync(store, feed.Id, null, TestContext.Current.CancellationToken))!;
        Assert.Equal(run.Forecast(), System.Text.Encoding.UTF8.GetString(answer.Body.Span));
        // What nothing has changed about is no new forecast.
        Assert.Equal(1, await store.Forecasts.CountAsync(TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task An_answer_for_other_days_is_not_asked_for_by_the_tag_of_the_last_one()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, async context =>
        {
            context.Response.Headers.ETag = "\"v1\"";
            context.Response.ContentType = "application/json";
            await context.Response.WriteAsync(run.Forecast());
        });
        var feed = await run.FeedAsync(0, query: "?start={start}&end={end}", conditional: "etag");
        var site = await run.SiteAsync("Lane", feed);

        await run.PullAsync(site);
        run.Clock.AdvanceDays(1);
        await run.PullAsync(site);

        Assert.Equal(["", ""], run.Server.Requests.Select(one => one.IfNoneMatch));
        await using var store = run.Store();
        Assert.Equal(1, await store.FeedAnswers.CountAsync(TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_stale_forecast_is_asked_for_once_more_in_another_way()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => run.Server.RequestsOf(0) == 1 ? WeatherRun.Days(run.Today.PlusDays(-9), run.Today.PlusDays(-1)) : run.Forecast());
        var feed = await run.FeedAsync(0);
        var site = await run.SiteAsync("Lane", feed);

        Assert.Equal("ok", (await run.PullAsync(site)).State);

        Assert.Equal(2, run.Server.RequestsOf(0));
        Assert.NotEqual(run.Server.Requests[0].Accept, run.Server.Requests[1].Accept);
    }

    [Fact]
    public async Task A_refused_answer_changes_nothing_of_what_is_kept_and_leaves_its_evidence()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => run.Forecast());
        var feed = await run.FeedAsync(0);
        var site = await run.SiteAsync("Lane", feed);
        await run.PullAsync(site);
        await using var before = run.Store();
        var kept = await before.FeedAnswers.AsNoTracking().SingleAsync(TestContext.Current.CancellationToken);

        run.Clock.AdvanceHours(3);
        run.Server.Answer(0, () => "{ \"daily\": { \"time\": [] } }");
        Assert.Equal("down", (await run.PullAsync(site)).State);

        await using var after = run.Store();
        var still = await after.FeedAnswers.AsNoTracking().SingleAsync(TestContext.Current.CancellationToken);
        Assert.Equal(kept.Body!, still.Body!);
        Assert.Equal(kept.CheckedAt, still.CheckedAt);
        var told = await run.ToldAsync(site, feed);
        Assert.Equal(FeedCodes.Missing, told.ProblemCode);
        Assert.Contains("\"status\":200", told.Evidence, StringComparison.Ordinal);
        Assert.Equal(WeatherRun.Start, told.LastGoodAt);
    }

    [Fact]
    public async Task The_pause_that_a_host_asks_for_outlives_a_restart()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, context =>
        {
            context.Response.StatusCode = 429;
            context.Response.Headers.RetryAfter = "3600";
            return Task.CompletedTask;
        });
        var feed = await run.FeedAsync(0);
        var site = await run.SiteAsync("Lane", feed);
        await run.PullAsync(site);
        Assert.Equal(1, run.Server.RequestsOf(0));

        run.Server.Answer(0, () => run.Forecast());
        run.Clock.AdvanceMinutes(50);
        await run.RestartAsync();
        await run.PullAsync(site, PullFor.Now);
        Assert.Equal(1, run.Server.RequestsOf(0));
        Assert.Equal(FeedCodes.RateLimited, (await run.ToldAsync(site, feed)).ProblemCode);

        run.Clock.AdvanceMinutes(20);
        await run.PullAsync(site, PullFor.Now);
        Assert.Equal(2, run.Server.RequestsOf(0));
        Assert.Null((await run.ToldAsync(site, feed)).ProblemCode);
    }

    [Fact]
    public async Task A_feed_that_waits_for_somebody_is_asked_once_a_day_or_when_it_was_changed()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, context =>
        {
            context.Response.StatusCode = 403;
            return Task.CompletedTask;
        });
        var feed = await run.FeedAsync(0);
        var site = await run.SiteAsync("Lane", feed);
        await run.PullAsync(site);
        Assert.True((await run.ToldAsync(site, feed)).Waiting);

        run.Clock.AdvanceHours(7);
        Assert.Equal(0, await run.DayAsync());
        var again = await run.PullAsync(site);
        Assert.Equal("down", again.State);
        Assert.NotEmpty(again.Note);
        Assert.Equal(1, run.Server.RequestsOf(0));

        await using (var store = run.Store())
        {
            (await store.Feeds.SingleAsync(TestContext.Current.CancellationToken)).Title = "Feed, with its key";
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        Assert.Equal(1, await run.DayAsync());
        Assert.Equal(2, run.Server.RequestsOf(0));
        run.Clock.AdvanceHours(27);
        Assert.Equal(1, await run.DayAsync());
        Assert.Equal(3, run.Server.RequestsOf(0));
    }

    [Fact]
    public async Task By_the_day_a_good_feed_is_asked_every_three_hours_and_never_on_the_hour()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => run.Forecast());
        var feed = await run.FeedAsync(0);
        var sites = new[] { await run.SiteAsync("Lane", feed), await run.SiteAsync("Mill", feed) };

        Assert.Equal(2, await run.DayAsync());
        Assert.Equal(0, await run.DayAsync());
        Assert.Equal(1, run.Server.RequestsOf(0));
        run.Clock.AdvanceHours(2);
        Assert.Equal(0, await run.DayAsync());
        run.Clock.AdvanceMinutes(75);
        Assert.Equal(2, await run.DayAsync());
        Assert.Equal(2, run.Server.RequestsOf(0));
        foreach (var site in sites)
        {
            var next = (await run.ToldAsync(site, feed)).NextTryAt.InUtc();
            Assert.InRange(next.Minute, 3, 57);
        }
    }

    [Fact]
    public async Task Before_a_morning_the_feed_is_asked_so_that_the_round_need_not_ask_on_the_hour()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => run.Forecast());
        var feed = await run.FeedAsync(0);
        await run.SiteAsync("Lane", feed);
        run.Clock.Reset(Instant.FromUtc(2026, 5, 13, 2, 50));
        Assert.Equal(1, await run.DayAsync());
        // A quarter to six by the site's clock: not due, but no longer fresh by the time of the round.
        run.Clock.Reset(Instant.FromUtc(2026, 5, 13, 3, 48));
        Assert.Equal(0, await run.DayAsync());
        var before = run.Server.RequestsOf(0);
        Assert.Equal(2, before);
        run.Clock.Reset(Instant.FromUtc(2026, 5, 13, 4, 0));
        await run.MorningAsync();
        Assert.Equal(before, run.Server.RequestsOf(0));
        await using var store = run.Store();
        Assert.Equal("ok", (await store.Mornings.SingleAsync(TestContext.Current.CancellationToken)).FeedState);
    }

    [Fact]
    public async Task After_failures_the_wait_grows_to_six_hours()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, context =>
        {
            context.Response.StatusCode = 400;
            return Task.CompletedTask;
        });
        var feed = await run.FeedAsync(0);
        var site = await run.SiteAsync("Lane", feed);
        var waits = new List<double>();
        for (var i = 0; i < 5; i++)
        {
            await run.PullAsync(site, PullFor.Due);
            var told = await run.ToldAsync(site, feed);
            Assert.Equal(i + 1, told.FailuresInARow);
            waits.Add((told.NextTryAt - run.Clock.GetCurrentInstant()).TotalHours);
            run.Clock.Reset(told.NextTryAt);
        }

        Assert.InRange(waits[0], 0.25, 0.4);
        Assert.InRange(waits[1], 1, 1.2);
        Assert.InRange(waits[2], 3, 3.4);
        Assert.All(waits[3..], wait => Assert.InRange(wait, 6, 6.7));
    }

    [Fact]
    public void An_answer_does_not_stay_fresh_until_the_next_day_at_the_same_hour()
    {
        var daily = FeedDescription.Parse(FeedPresets.All.First(preset => preset.Id == "open-meteo-archive").Json).Refresh;
        var kept = new Store.Entities.FeedAnswer { Place = "", Asked = "", MediaType = "", CheckedAt = WeatherRun.Start };
        Assert.True(FeedTimes.IsFresh(kept, daily, WeatherRun.Start + Duration.FromHours(12)));
        Assert.False(FeedTimes.IsFresh(kept, daily, WeatherRun.Start + Duration.FromHours(24) - Duration.FromMinutes(5)));
    }
}
