using FruitWatch.Feeds;
using FruitWatch.Model.Beds;
using FruitWatch.Service.Log;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Channels.Email;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;
using Bed = FruitWatch.Store.Entities.Bed;
using LogEntry = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Tests.Seattle;

/// <summary>
/// The whole service on a SQLite file, driven morning by morning: its feed over HTTP, its mail over SMTP, its clock ours. A
/// grower does what the notices ask, and forgets every fifth.
/// </summary>
internal sealed class SeattleRun : IAsyncDisposable
{
    public static readonly LocalDate First = new(2012, 1, 8);
    public static readonly LocalDate Last = new(2015, 12, 31);
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["America/Los_Angeles"];

    // In memory where the system has a folder there: some thousand mornings, each written through to the disk, take minutes on a slow one.
    private readonly string folder = Directory.Exists("/dev/shm")
        ? Directory.CreateDirectory(Path.Combine("/dev/shm", Path.GetRandomFileName())).FullName
        : Directory.CreateTempSubdirectory("fruitwatch-seattle").FullName;
    private readonly FakeClock clock = new(MorningOf(First));
    private Microsoft.Extensions.DependencyInjection.ServiceProvider services;

    private readonly bool runJobs;

    private SeattleRun(MailboxServer mailbox, bool runJobs)
    {
        Mailbox = mailbox;
        this.runJobs = runJobs;
        Feed = new SeattleFeed(clock);
        services = Build();
    }

    public SeattleFeed Feed { get; }

    public MailboxServer Mailbox { get; }

    /// <summary>Whether the relay takes no mail for now.</summary>
    public bool MailDown
    {
        set => Mailbox.AfterContent = _ => value ? 421 : null;
    }

    public IServiceProvider Services => services;

    public StoreFactory Stores => services.GetRequiredService<StoreFactory>();

    public static Instant MorningOf(LocalDate day) => LocalMorning.Of(day, new LocalTime(6, 0), Zone) + Duration.FromMinutes(3);

    /// <param name="runJobs">Whether the service's own jobs are to run; the caller starts and stops them.</param>
    public static async Task<SeattleRun> StartAsync(bool runJobs = false)
    {
        var run = new SeattleRun(await MailboxServer.StartAsync(), runJobs);
        await StoreMigration.PrepareAsync(run.Stores, run.clock, NullLogger.Instance);
        await using var store = run.Stores.CreateDbContext();
        await run.SeedAsync(store);
        return run;
    }

    /// <summary>The program ends and starts again: nothing but the files survives.</summary>
    public async Task RestartAsync()
    {
        await services.DisposeAsync();
        services = Build();
    }

    /// <summary>A morning: everything that is due, and later the grower.</summary>
    public async Task MorningAsync(LocalDate day)
    {
        clock.Reset(MorningOf(day));
        await StepAsync();
        await GrowerAsync(day);
    }

    public Task StepAsync() => services.GetRequiredService<MorningStep>().RunAsync(CancellationToken.None);

    public async ValueTask DisposeAsync()
    {
        await services.DisposeAsync();
        Feed.Dispose();
        await Mailbox.DisposeAsync();
        Directory.Delete(folder, recursive: true);
    }

    private Microsoft.Extensions.DependencyInjection.ServiceProvider Build()
    {
        var configuration = new ConfigurationBuilder().AddInMemoryCollection(new Dictionary<string, string?>
        {
            ["FruitWatch:DataFolder"] = folder,
            ["FruitWatch:BaseUrl"] = "https://beds.example.org",
            ["FruitWatch:RunJobs"] = runJobs ? "true" : "false",
            ["FruitWatch:LocalStations:0"] = Feed.Endpoint,
            ["Mail:Host"] = "localhost",
            ["Mail:Port"] = Mailbox.Port.ToString(System.Globalization.CultureInfo.InvariantCulture),
            ["Mail:Security"] = "none",
        }).Build();
        var collection = new ServiceCollection();
        collection.AddSingleton<IConfiguration>(configuration);
        ServiceHost.AddServices(collection, configuration);
        collection.AddSingleton<IClock>(clock);
        collection.AddSingleton<TimeProvider>(new ClockTime(clock));
        collection.AddSingleton(new FeedClientOptions { UserAgent = "FruitWatch tests", LocalStations = new HashSet<string> { Feed.Endpoint }, RetryDelay = TimeSpan.Zero, PerSecond = 1000 });
        return collection.BuildServiceProvider();
    }

    private async Task SeedAsync(FruitWatchStore store)
    {
        var cooperative = new Cooperative { Name = "Sound Beds", GrowersReadAll = true };
        store.Add(cooperative);
        await store.SaveChangesAsync();
        var feed = new Feed { CooperativeId = cooperative.Id, Key = "seattle", Title = "Seattle, replayed", Description = Feed.Description };
        store.Add(feed);
        await store.SaveChangesAsync();
        var site = new Site
        {
            CooperativeId = cooperative.Id,
            Name = "North Garden",
            Latitude = 47.45,
            Longitude = -122.31,
            Elevation = 130,
            ZoneId = Zone.Id,
            ForecastFeedId = feed.Id,
            HistoryFeedId = feed.Id,
        };
        store.Add(site);
        await store.SaveChangesAsync();
        store.AddRange(
            BedOf(site, "Chip path", "wine-cap", "hardwood-chips", 0.15, new LocalDate(2012, 4, 10), shade: 0.6, mulchCm: 3),
            BedOf(site, "Straw row", "oyster-cold", "cereal-straw", 0.20, new LocalDate(2012, 8, 20), shade: 0.8, mulchCm: 0, Cover.Sheet),
            BedOf(site, "Leaf bay", "wood-blewit", "shredded-leaves", 0.25, new LocalDate(2012, 3, 1), shade: 0.9, mulchCm: 0));
        foreach (var (name, language) in new[] { ("Ada", "en"), ("Benito", "es") })
        {
            var person = new Person { CooperativeId = cooperative.Id, Name = name, Email = $"{name}@example.org".ToLowerInvariant(), Language = language };
            person.Sites.Add(new PersonSite { SiteId = site.Id });
            store.Add(person);
        }

        await store.SaveChangesAsync();
    }

    private static Bed BedOf(
        Site site, string name, string species, string material, double depth, LocalDate inoculated, double shade, double mulchCm, Cover cover = Cover.None)
    {
        var bed = new Bed
        {
            SiteId = site.Id,
            Name = name,
            SpeciesKey = species,
            Area = 6,
            InoculatedOn = inoculated,
            Shade = shade,
            MulchCm = mulchCm,
            MulchMaterialKey = mulchCm > 0 ? "cereal-straw" : null,
            Cover = cover,
        };
        bed.Layers.Add(new BedLayer { MaterialKey = material, Depth = depth, LaidOn = inoculated });
        return bed;
    }

    private async Task GrowerAsync(LocalDate day)
    {
        await using var store = Stores.CreateDbContext();
        var open = await store.Notices.Where(n => n.State == NoticeState.Open && n.FirstOn == day).OrderBy(n => n.Id).ToListAsync();
        foreach (var notice in open.Where(n => (n.Episode + n.BedId) % 5 != 0))
        {
            var entry = notice.Kind switch
            {
                "water" => new LogEntry { BedId = notice.BedId!.Value, On = day, Kind = LogKinds.Watered, Amount = notice.Amount },
                "cover-off" => new LogEntry { BedId = notice.BedId!.Value, On = day, Kind = LogKinds.Cover, Text = "none" },
                "cover-on" => new LogEntry { BedId = notice.BedId!.Value, On = day, Kind = LogKinds.Cover, Text = "sheet" },
                "yearly-feeding" => new LogEntry { BedId = notice.BedId!.Value, On = day, Kind = LogKinds.ToppedUp, Text = "hardwood-chips", Depth = 0.05 },
                _ => null,
            };
            if (entry is null)
                continue;
            entry.At = new LocalTime(18, 0);
            entry.RecordedAt = clock.GetCurrentInstant();
            store.Add(entry);
        }

        await store.SaveChangesAsync();
    }
}

/// <summary>Lets what counts in the machine's time, such as a breaker's rest, count in the test's.</summary>
internal sealed class ClockTime(IClock clock) : TimeProvider
{
    public override DateTimeOffset GetUtcNow() => clock.GetCurrentInstant().ToDateTimeOffset();
}
