using FruitWatch.Feeds;
using FruitWatch.Service.Weather;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Weather;

public sealed class HeldUnitTests
{
    [Fact]
    public async Task Mild_Fahrenheit_read_as_Celsius_is_held_until_somebody_says_that_it_is_right()
    {
        await using var run = await WeatherRun.StartAsync();
        run.Server.Answer(0, () => run.Forecast(day => 13 + day.Day % 4));
        var feed = await run.FeedAsync(0);
        var site = await run.SiteAsync("Lane", feed);
        await run.PullAsync(site);
        var before = await run.WeatherAsync(site);

        run.Clock.AdvanceDays(1);
        run.Server.Answer(0, () => run.Forecast(day => 55 + day.Day % 4));
        var pulled = await run.PullAsync(site);

        Assert.Equal("asked", pulled.State);
        var told = await run.ToldAsync(site, feed);
        Assert.Equal(FeedCodes.SuspectUnits, told.ProblemCode);
        Assert.Equal(WeatherRun.Start, told.LastGoodAt);
        Assert.Equal(before.Select(day => day.ToDay()), (await run.WeatherAsync(site)).Select(day => day.ToDay()));
        await using var store = run.Store();
        Assert.Equal(1, await store.Forecasts.CountAsync(TestContext.Current.CancellationToken));
        var health = (await SiteFeedHealth.LoadAsync(store, [site.Id], run.Clock.GetCurrentInstant(), TestContext.Current.CancellationToken))[site.Id].Single();
        Assert.Equal(FeedStanding.Asked, health.State);
        Assert.Equal(("[degF]", "/series/tmax/unit/code", "\"[degF]\""), (health.Question!.Fits, health.Question.Pointer, health.Question.Value));

        var requests = run.Server.RequestsOf(0);
        await SiteFeedsApi.ConfirmUnitsAsync(
            store, run.Services.GetRequiredService<WeatherPull>(), site.Id, feed.Id, TestContext.Current.CancellationToken);

        // The answer that was held is taken as it came; nobody is asked again.
        Assert.Equal(requests, run.Server.RequestsOf(0));
        told = await run.ToldAsync(site, feed);
        Assert.Null(told.Question);
        Assert.Null(told.ProblemCode);
        Assert.Equal(1, told.UnitsConfirmed);
        Assert.Contains(await run.WeatherAsync(site), day => day.Tmax >= 55);
    }

    [Fact]
    public async Task Without_good_days_of_late_the_sites_climate_tells_what_is_to_be_expected()
    {
        await using var run = await WeatherRun.StartAsync(feeds: 2);
        run.Server.Answer(0, () => WeatherRun.Days(run.Today.PlusDays(-390), run.Today.PlusDays(-60)));
        run.Server.Answer(1, () => run.Forecast(day => 56));
        var archive = await run.FeedAsync(0, "history");
        var forecast = await run.FeedAsync(1);
        var site = await run.SiteAsync("Lane", forecast, archive);
        await using (var store = run.Store())
        {
            store.Beds.Add(new Store.Entities.Bed { SiteId = site.Id, Name = "Old", SpeciesKey = "wine-cap", InoculatedOn = run.Today.PlusDays(-330) });
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        await run.PullAsync(site);

        Assert.Null((await run.ToldAsync(site, archive)).Question);
        Assert.NotNull((await run.ToldAsync(site, forecast)).Question);
    }
}
