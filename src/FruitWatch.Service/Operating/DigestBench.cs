using System.Diagnostics;
using System.Globalization;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Measures the morning mail of ten thousand people: from the store, through the beds' accounts, into the outbox.</summary>
internal static class DigestBench
{
    private const int SitesOfAll = 500;
    private const int BedsOfASite = 4;
    private const int PastDays = 200;
    private const int ForecastDays = 14;
    private static readonly LocalDate s_today = new(2026, 6, 10);
    private static readonly Instant s_now = Instant.FromUtc(2026, 6, 10, 6, 30);

    public static async Task RunAsync(VerbOptions given, TextWriter output)
    {
        var people = given.Optional("people") is { } wanted ? int.Parse(wanted, NumberStyles.None, CultureInfo.InvariantCulture) : 10_000;
        var folder = Directory.CreateTempSubdirectory("fruitwatch-bench-").FullName;
        try
        {
            await using var services = Services(folder);
            var stores = services.GetRequiredService<StoreFactory>();
            await StoreMigration.PrepareAsync(stores, services.GetRequiredService<IClock>(), NullLogger.Instance);
            await FillAsync(stores, people);

            var worked = Process.GetCurrentProcess().TotalProcessorTime;
            var start = Stopwatch.GetTimestamp();
            var composed = await services.GetRequiredService<DigestRound>().ComposeDueAsync(CancellationToken.None);
            var took = Stopwatch.GetElapsedTime(start);
            worked = Process.GetCurrentProcess().TotalProcessorTime - worked;

            await using var store = stores.CreateDbContext();
            var sizes = await store.Outbox.Select(mail => mail.HtmlBody.Length).ToListAsync();
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"people {people}, sites {SitesOfAll}, beds {SitesOfAll * BedsOfASite}, cores {Environment.ProcessorCount}"));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"digests {composed}, HTML of {sizes.Average():F0} characters in the mean, {sizes.Max()} at most"));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seconds {took.TotalSeconds:F1} (of processors {worked.TotalSeconds:F1}), {composed / took.TotalSeconds:F0} a second"));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"most memory {Process.GetCurrentProcess().PeakWorkingSet64 / (1024 * 1024)} MiB"));
        }
        finally
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            Directory.Delete(folder, recursive: true);
        }
    }

    private static ServiceProvider Services(string folder)
    {
        var configuration = new ConfigurationBuilder().AddInMemoryCollection(new Dictionary<string, string?>
        {
            ["FruitWatch:DataFolder"] = folder,
            ["FruitWatch:RunJobs"] = "false",
        }).Build();
        var services = new ServiceCollection();
        services.AddLogging();
        services.AddSingleton<IConfiguration>(configuration);
        ServiceHost.AddServices(services, configuration);
        services.AddSingleton<IClock>(new FixedClock(s_now));
        return services.BuildServiceProvider();
    }

    private static async Task FillAsync(StoreFactory stores, int people)
    {
        await using var store = stores.CreateDbContext();
        store.ChangeTracker.AutoDetectChangesEnabled = false;
        var cooperative = new Cooperative { Name = "Measured Growers", GrowersReadAll = true };
        store.Add(cooperative);
        await store.SaveChangesAsync();
        var feed = new Feed { CooperativeId = cooperative.Id, Key = "measured", Title = "Measured weather", Description = FruitWatch.Feeds.FeedPresets.Find("station-daily-csv")!.Json };
        store.Add(feed);
        await store.SaveChangesAsync();
        var sites = Enumerable.Range(0, SitesOfAll).Select(i => new Site
        {
            CooperativeId = cooperative.Id,
            Name = $"Site {i}",
            Latitude = 40 + i % 20,
            Longitude = i % 10,
            ZoneId = "Europe/Madrid",
            ForecastFeedId = feed.Id,
        }).ToList();
        store.AddRange(sites);
        await store.SaveChangesAsync();
        await PlacesAsync(store, sites, feed.Id);
        foreach (var some in Enumerable.Range(0, people).Chunk(1000))
        {
            store.AddRange(some.Select(i => PersonOf(i, cooperative.Id, sites)));
            await store.SaveChangesAsync();
            store.ChangeTracker.Clear();
        }
    }

    private static async Task PlacesAsync(FruitWatchStore store, List<Site> sites, long feedId)
    {
        foreach (var (site, number) in sites.Select((site, number) => (site, number)))
        {
            var past = Enumerable.Range(0, PastDays).Select(i => Day(s_today.PlusDays(i - PastDays), number)).ToList();
            await store.MergeWeatherAsync(site.Id, feedId, past, s_now, s_now);
            var ahead = Enumerable.Range(0, ForecastDays).Select(i => Day(s_today.PlusDays(i), number)).ToList();
            var beds = BenchBeds.Make(BedsOfASite, s_today.PlusDays(-60 - number % 90)).Select(one => BedOf(site.Id, one.Number + number, one.Bed.Inoculated)).ToList();
            store.AddRange(beds);
            store.Add(new ForecastIssue { SiteId = site.Id, FeedId = feedId, IssuedAt = s_now - Duration.FromHours(2), FetchedAt = s_now, FirstDay = s_today, Days = ForecastDays, Payload = new ForecastPayload(ahead, []).Write() });
            store.Add(new SiteMorning { SiteId = site.Id, On = s_today, DoneAt = s_now, FeedState = "fresh" });
            await store.SaveChangesAsync();
            store.AddRange(beds.Where((_, i) => (i + number) % 2 == 0).Select((bed, i) => NoticeRows.Open(site.Id, bed.Id, new NoticeOpened(NoticeKind.Water, 1, Dry(i)), s_today, s_now)));
            store.AddRange(beds.Where((_, i) => (i + number) % 5 == 0).Select(bed => NoticeRows.Open(site.Id, bed.Id, new NoticeOpened(NoticeKind.ExpectPins, 1, Pins()), s_today, s_now)));
            await store.SaveChangesAsync();
            store.ChangeTracker.Clear();
        }
    }

    private static Bed BedOf(long siteId, int number, LocalDate inoculated)
    {
        var species = Model.Catalogue.BedCatalogue.BuiltIn.Species.Values.ToArray()[number % Model.Catalogue.BedCatalogue.BuiltIn.Species.Count];
        var bed = new Bed { SiteId = siteId, Name = $"Bed {number}", SpeciesKey = species.Key, Area = 4, Shade = number % 10 / 10.0, InoculatedOn = inoculated };
        bed.Layers.Add(new BedLayer { MaterialKey = species.Materials[0], Depth = 0.15, LaidOn = inoculated });
        return bed;
    }

    private static Person PersonOf(int number, long cooperativeId, List<Site> sites)
    {
        var person = new Person
        {
            CooperativeId = cooperativeId,
            Name = $"Person {number}",
            Email = $"person{number}@example.org",
            Role = Role.Coordinator,
            Language = number % 3 == 0 ? "es" : "en",
            Units = number % 4 == 0 ? Units.UsCustomary : Units.Metric,
        };
        // One site, two or three that are neighbours.
        for (var i = 0; i <= number % 3; i++)
            person.Sites.Add(new PersonSite { SiteId = sites[(number / 20 + i) % sites.Count].Id });
        return person;
    }

    private static WeatherDay Day(LocalDate date, int site)
    {
        var mean = 13 + 8 * Math.Cos(2 * Math.PI * (date.DayOfYear - 201) / 365.0) + 2 * Math.Sin(date.DayOfYear / 2.7 + site);
        return new WeatherDay(date, mean + 5, mean - 5, Math.Max(0, 11 * Math.Sin(date.DayOfYear * 2.3 + site) - 6));
    }

    private static NoticeDraft Dry(int number) => new(
        NoticeKind.Water, s_today, s_today.PlusDays(number % 2), NoticeConfidence.Firm,
        NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, 0.3), (ReasonNumber.WaterMark, 0.45), (ReasonNumber.RainToCome, 1), (ReasonNumber.Days, 3), (ReasonNumber.Goes, 1)))
    { Amount = 25 };

    private static NoticeDraft Pins() => new(
        NoticeKind.ExpectPins, s_today.PlusDays(6), s_today.PlusDays(9), NoticeConfidence.Possible,
        NoticeReason.Of(ReasonCode.PinsAhead, (ReasonNumber.Days, 6), (ReasonNumber.EarlyDays, 2), (ReasonNumber.LateDays, 3)));

    private sealed class FixedClock(Instant now) : IClock
    {
        public Instant GetCurrentInstant() => now;
    }
}
