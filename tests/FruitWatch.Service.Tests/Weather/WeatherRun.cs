using System.Globalization;
using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Weather.Past;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Weather;

/// <summary>The service without its pages, on a SQLite file, with feeds on loopback and a clock that the test sets.</summary>
internal sealed class WeatherRun : IAsyncDisposable
{
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Madrid"];
    public static readonly Instant Start = Instant.FromUtc(2026, 5, 12, 4, 11);

    private readonly string folder = Directory.CreateTempSubdirectory("fruitwatch-weather-").FullName;
    private ServiceProvider services;

    private WeatherRun(FeedServer server)
    {
        Server = server;
        services = Build();
    }

    public FakeClock Clock { get; } = new(Start);

    public FeedServer Server { get; }

    public long Cooperative { get; private set; }

    public LocalDate Today => Clock.GetCurrentInstant().InZone(Zone).Date;

    public IServiceProvider Services => services;

    public static async Task<WeatherRun> StartAsync(int feeds = 1)
    {
        var run = new WeatherRun(await FeedServer.StartAsync(feeds));
        await StoreMigration.PrepareAsync(run.services.GetRequiredService<StoreFactory>(), run.Clock, NullLogger.Instance);
        await using var store = run.Store();
        var cooperative = new Cooperative { Name = "Alder Lane Growers" };
        store.Add(cooperative);
        await store.SaveChangesAsync();
        run.Cooperative = cooperative.Id;
        return run;
    }

    public FruitWatchStore Store() => services.GetRequiredService<StoreFactory>().CreateDbContext();

    /// <summary>The program ends and starts again: nothing but the files survives.</summary>
    public async Task RestartAsync()
    {
        await services.DisposeAsync();
        services = Build();
    }

    /// <summary>A second server on the same store.</summary>
    public ServiceProvider SecondServer() => Build();

    public async Task<Feed> FeedAsync(int service, string provides = "both", string query = "", string conditional = "none", string every = "PT1H", int back = 7, string? key = null, int seconds = 60)
    {
        var name = key ?? $"feed-{service}";
        var feed = new Feed
        {
            CooperativeId = Cooperative,
            Key = name,
            Title = $"Feed {service}",
            Description = Describe(name, $"http://127.0.0.1:{Server.Ports[service]}/daily{query}", provides, conditional, every, back, seconds),
        };
        await using var store = Store();
        store.Add(feed);
        await store.SaveChangesAsync();
        return feed;
    }

    public async Task<Site> SiteAsync(string name, Feed? forecast = null, Feed? archive = null, Feed? station = null, double latitude = 43.2)
    {
        var site = new Site
        {
            CooperativeId = Cooperative,
            Name = name,
            Latitude = latitude,
            Longitude = -3.1,
            Elevation = 120,
            ZoneId = Zone.Id,
            ForecastFeedId = forecast?.Id,
            HistoryFeedId = archive?.Id,
            StationFeedId = station?.Id,
        };
        await using var store = Store();
        store.Add(site);
        await store.SaveChangesAsync();
        return site;
    }

    public async Task<PulledWeather> PullAsync(Site site, PullFor why = PullFor.Morning, IServiceProvider? server = null)
    {
        await using var store = Store();
        return await (server ?? services).GetRequiredService<WeatherPull>().PullAsync(store, site.Id, why, null, null, TestContext.Current.CancellationToken);
    }

    public Task<int> DayAsync() => services.GetRequiredService<DayRound>().RunAsync(TestContext.Current.CancellationToken);

    public Task<int> PastAsync(CancellationToken? stop = null) =>
        services.GetRequiredService<BackfillRound>().RunAsync(stop ?? TestContext.Current.CancellationToken);

    public Task MorningAsync() => services.GetRequiredService<MorningStep>().RunAsync(TestContext.Current.CancellationToken);

    public async Task<SiteFeed> ToldAsync(Site site, Feed feed)
    {
        await using var store = Store();
        return await store.SiteFeeds.AsNoTracking().SingleAsync(row => row.SiteId == site.Id && row.FeedId == feed.Id);
    }

    public async Task<List<WeatherRecord>> WeatherAsync(Site site)
    {
        await using var store = Store();
        return await store.Weather.AsNoTracking().Where(day => day.SiteId == site.Id).OrderBy(day => day.Date).ThenBy(day => day.FeedId).ToListAsync();
    }

    /// <summary>Days in the form that the feeds of this run give, mild and dry unless told otherwise.</summary>
    public static string Days(LocalDate first, LocalDate last, Func<LocalDate, double>? tmax = null)
    {
        var days = Enumerable.Range(0, Period.DaysBetween(first, last) + 1).Select(first.PlusDays).ToList();
        return JsonSerializer.Serialize(new
        {
            daily = new
            {
                time = days.Select(day => day.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture)),
                tmax = days.Select(day => tmax?.Invoke(day) ?? 19 + day.Day % 5),
                tmin = days.Select(day => (tmax?.Invoke(day) ?? 19 + day.Day % 5) - 9),
                rain = days.Select(day => day.Day % 4 == 0 ? 3.5 : 0),
            },
        });
    }

    /// <summary>What a forecast feed that tells a week of the past says on the clock's day.</summary>
    public string Forecast(Func<LocalDate, double>? tmax = null) => Days(Today.PlusDays(-7), Today.PlusDays(8), tmax);

    public async ValueTask DisposeAsync()
    {
        await services.DisposeAsync();
        await Server.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    private static string Describe(string id, string url, string provides, string conditional, string every, int back, int seconds) => $$"""
        {
          "schema": "weather-feed/1", "id": "{{id}}", "title": "{{id}}", "provides": "{{provides}}",
          "attribution": { "text": "Weather by the invented Hill Station" },
          "request": {
            "url": "{{url}}", "mediaTypes": ["application/json"], "maxBytes": 1048576, "timeoutSeconds": {{seconds}},
            "dates": { "pattern": "uuuu-MM-dd", "back": {{back}}, "ahead": 0 }
          },
          "refresh": { "every": "{{every}}", "conditional": "{{conditional}}", "honourExpires": false },
          "format": { "kind": "columns" },
          "time": { "at": "/daily/time", "kind": "localDate", "pattern": "uuuu-MM-dd", "zone": "site" },
          "series": {
            "tmax": { "at": "/daily/tmax", "unit": { "code": "Cel" }, "support": "day" },
            "tmin": { "at": "/daily/tmin", "unit": { "code": "Cel" }, "support": "day" },
            "rain": { "at": "/daily/rain", "unit": { "code": "mm" }, "support": "day" }
          },
          "daily": {
            "tmax": { "from": ["tmax"], "reduce": "max", "assign": "midpoint" },
            "tmin": { "from": ["tmin"], "reduce": "min", "assign": "midpoint" },
            "rain": { "from": ["rain"], "reduce": "sum", "assign": "midpoint" }
          },
          "expect": { "horizonDays": { "back": 4000, "ahead": 9 } }
        }
        """;

    private ServiceProvider Build()
    {
        var settings = new Dictionary<string, string?>
        {
            ["FruitWatch:DataFolder"] = folder,
            ["FruitWatch:BaseUrl"] = "https://beds.example.org",
            ["FruitWatch:RunJobs"] = "false",
        };
        var endpoints = Server.Endpoints.ToList();
        for (var i = 0; i < endpoints.Count; i++)
            settings[$"FruitWatch:LocalStations:{i}"] = endpoints[i];
        var configuration = new ConfigurationBuilder().AddInMemoryCollection(settings).Build();
        var collection = new ServiceCollection();
        collection.AddSingleton<IConfiguration>(configuration);
        ServiceHost.AddServices(collection, configuration);
        collection.AddSingleton<IClock>(Clock);
        collection.AddSingleton<TimeProvider>(new TestTime(Clock));
        collection.AddSingleton(new FeedClientOptions
        {
            UserAgent = "FruitWatch tests",
            LocalStations = endpoints.ToHashSet(),
            RetryDelay = TimeSpan.FromMilliseconds(1),
        });
        return collection.BuildServiceProvider();
    }

    /// <summary>The test's clock, under which waits still pass.</summary>
    private sealed class TestTime(IClock clock) : TimeProvider
    {
        private readonly long started = System.GetTimestamp();

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override DateTimeOffset GetUtcNow() => clock.GetCurrentInstant().ToDateTimeOffset();

        public override long GetTimestamp() => clock.GetCurrentInstant().ToUnixTimeTicks() + System.GetElapsedTime(started).Ticks;
    }
}
