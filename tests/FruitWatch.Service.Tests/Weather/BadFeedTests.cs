using System.IO.Compression;
using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Weather;

/// <summary>What memory a test takes can only be told while no other test runs.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class Alone
{
    public const string Name = "alone";
}

/// <summary>A morning on which everything that a feed can do wrong is done, each at a site of its own, beside a site whose feed is well.</summary>
[Collection(Alone.Name)]
public sealed class BadFeedTests
{
    private const int Healthy = 10;
    private const int Forbidden = 11;

    /// <summary>The feed that comes too slowly, and has little time.</summary>
    private const int Dripping = 2;

    private const long MostGrowth = 50 * 1024 * 1024;

    [Fact]
    public async Task A_feed_that_does_anything_wrong_harms_neither_its_own_sites_past_nor_any_other_site()
    {
        await using var run = await WeatherRun.StartAsync(feeds: 12);
        var bomb = Bomb();
        var bad = Faults(run, bomb);
        Assert.Equal((Healthy, FeedCodes.TooSlow), (bad.Count, bad[Dripping].Code));
        var (feeds, sites) = await GoodMorningAsync(run);
        var before = await KeptAsync(run, sites);

        run.Clock.AdvanceDays(1);
        for (var i = 0; i < bad.Count; i++)
            run.Server.Answer(i, bad[i].Answer);
        var heap = await HeapWhileAsync(run.MorningAsync);

        await using var store = run.Store();
        var states = await store.Mornings.AsNoTracking().Where(m => m.On == run.Today).ToDictionaryAsync(m => m.SiteId, m => m.FeedState);
        Assert.Equal(sites.Count, states.Count);
        Assert.Equal("ok", states[sites[Healthy].Id]);
        var after = await KeptAsync(run, sites);
        Assert.NotEqual(before[Healthy], after[Healthy]);
        var now = run.Clock.GetCurrentInstant();
        for (var i = 0; i < bad.Count; i++)
        {
            var told = await run.ToldAsync(sites[i], feeds[i]);
            Assert.True(bad[i].Code == told.ProblemCode, $"{bad[i].Name}: expected {bad[i].Code}, was {told.ProblemCode}: {told.Problem}");
            Assert.Equal("down", states[sites[i].Id]);
            Assert.Equal(1, told.FailuresInARow);
            Assert.Equal(WeatherRun.Start, told.LastGoodAt!.Value);
            Assert.True(told.NextTryAt > now, bad[i].Name);
            Assert.False(string.IsNullOrWhiteSpace(told.Problem));
            Assert.Equal(before[i], after[i]);
        }

        Assert.Equal(0, run.Server.RequestsOf(Forbidden));
        // The pause that the server asked for is kept: not before it is over.
        Assert.True((await run.ToldAsync(sites[1], feeds[1])).NextTryAt >= now + Duration.FromMinutes(30));
        TestContext.Current.TestOutputHelper?.WriteLine($"heap grew by {heap / 1048576.0:0.0} MB at most");
        Assert.True(heap < MostGrowth, $"the heap grew by {heap / 1048576.0:0.0} MB");
    }

    private static List<(string Name, string Code, RequestDelegate Answer)> Faults(WeatherRun run, byte[] bomb) =>
    [
        ("500", FeedCodes.ServerError, Status(500)),
        ("429", FeedCodes.RateLimited, context =>
        {
            context.Response.StatusCode = 429;
            context.Response.Headers.RetryAfter = "1800";
            return Task.CompletedTask;
        }),
        ("drip", FeedCodes.TooSlow, DripAsync),
        ("gzip bomb", FeedCodes.TooLarge, async context =>
        {
            context.Response.ContentType = "application/json";
            context.Response.Headers.ContentEncoding = "gzip";
            await context.Response.Body.WriteAsync(bomb);
        }),
        ("web page", FeedCodes.NotExpectedType, Text("<!doctype html><title>Sign in</title>", "text/html")),
        ("truncated JSON", FeedCodes.InvalidJson, context => Text(run.Forecast()[..200])(context)),
        ("NaN", FeedCodes.InvalidJson, context => Text(run.Forecast().Replace("3.5", "NaN", StringComparison.Ordinal))(context)),
        ("99 °C", FeedCodes.SuspectUnits, context => Text(run.Forecast(_ => 99))(context)),
        ("yesterday's data", FeedCodes.TimeStale, context => Text(WeatherRun.Days(run.Today.PlusDays(-9), run.Today.PlusDays(-1)))(context)),
        ("redirect to loopback", FeedCodes.RedirectRefused, context =>
        {
            context.Response.Redirect($"http://localhost:{run.Server.Ports[Forbidden]}/daily");
            return Task.CompletedTask;
        }),
    ];

    private static async Task<(List<Feed> Feeds, List<Site> Sites)> GoodMorningAsync(WeatherRun run)
    {
        var (feeds, sites) = (new List<Feed>(), new List<Site>());
        for (var i = 0; i <= Healthy; i++)
        {
            run.Server.Answer(i, () => run.Forecast());
            feeds.Add(await run.FeedAsync(i, seconds: i == Dripping ? 4 : 60));
            sites.Add(await run.SiteAsync($"Site {i}", feeds[i]));
        }

        await run.MorningAsync();
        foreach (var site in sites)
            Assert.Equal(7, (await run.WeatherAsync(site)).Count);
        return (feeds, sites);
    }

    /// <summary>History and forecasts of each site, byte for byte.</summary>
    private static async Task<List<string>> KeptAsync(WeatherRun run, List<Site> sites)
    {
        var kept = new List<string>();
        foreach (var site in sites)
        {
            await using var store = run.Store();
            var forecasts = await store.Forecasts.AsNoTracking().Where(issue => issue.SiteId == site.Id).OrderBy(issue => issue.Id).ToListAsync();
            kept.Add(JsonSerializer.Serialize((await run.WeatherAsync(site)).Select(day => day.ToDay().ToString()))
                + JsonSerializer.Serialize(forecasts.Select(issue => $"{issue.Id} {issue.IssuedAt} {issue.Payload}")));
        }

        return kept;
    }

    /// <summary>By how much the heap grows at most while something runs. [B]</summary>
    private static async Task<long> HeapWhileAsync(Func<Task> run)
    {
        var start = GC.GetTotalMemory(forceFullCollection: true);
        var most = start;
        using var done = new CancellationTokenSource();
        var watch = Task.Run(async () =>
        {
            while (!done.IsCancellationRequested)
            {
                most = Math.Max(most, GC.GetTotalMemory(forceFullCollection: false));
                await Task.Delay(10);
            }
        });
        await run();
        await done.CancelAsync();
        await watch;
        return most - start;
    }

    private static byte[] Bomb()
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            var zeros = new byte[1024 * 1024];
            for (var i = 0; i < 200; i++)
                gzip.Write(zeros);
        }

        return packed.ToArray();
    }

    private static RequestDelegate Status(int status) => context =>
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    };

    private static RequestDelegate Text(string text, string mediaType = "application/json") => async context =>
    {
        context.Response.ContentType = mediaType;
        await context.Response.WriteAsync(text);
    };

    private static async Task DripAsync(HttpContext context)
    {
        context.Response.ContentType = "application/json";
        for (var i = 0; i < 600 && !context.RequestAborted.IsCancellationRequested; i++)
        {
            await context.Response.WriteAsync(" ");
            await context.Response.Body.FlushAsync();
            await Task.Delay(100);
        }
    }
}
