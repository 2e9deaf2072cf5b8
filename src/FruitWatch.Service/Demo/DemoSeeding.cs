using FruitWatch.Service.Demo.Cooperative;
using FruitWatch.Service.Demo.Weather;
using FruitWatch.Service.Log;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using NodaTime;
using CooperativeRow = FruitWatch.Store.Entities.Cooperative;

namespace FruitWatch.Service.Demo;

/// <summary>
/// Puts the invented cooperative into an empty store: people, sites, feeds, beds, and a log that its growers wrote from the first day
/// of each bed until the evening before the first morning.
/// </summary>
internal sealed class DemoSeeding(DemoWorld world, LocalDate start)
{
    /// <summary>The only cooperative of its store.</summary>
    public const long CooperativeId = 1;

    public const string CooperativeName = "Tolmerrow Mushroom Growers";

    /// <summary>All or nothing.</summary>
    public async Task RunAsync(FruitWatchStore store, CancellationToken stop)
    {
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        var cooperative = new CooperativeRow { Name = CooperativeName, GrowersReadAll = true };
        store.Add(cooperative);
        await store.SaveChangesAsync(stop);

        var sites = await AddSitesAsync(store, cooperative.Id, stop);
        await AddPeopleAsync(store, cooperative.Id, sites, stop);
        var beds = DemoBed.All.Select(plan => (Plan: plan, Row: RowOf(plan, sites[plan.Site].Id))).ToList();
        foreach (var (_, row) in beds)
        {
            // One by one: their keys name their streams of chance, and must not hang on the order in which a batch is written.
            store.Add(row);
            await store.SaveChangesAsync(stop);
        }

        var people = await DemoPeople.KeysAsync(store, stop);
        foreach (var grower in DemoGrower.All)
            store.BedGrowers.AddRange(beds.Where(bed => grower.Owns(bed.Plan)).Select(bed => new BedGrower { BedId = bed.Row.Id, PersonId = people[grower.Email] }));
        foreach (var (plan, row) in beds)
        {
            var log = LogOf(plan, row);
            log.ForEach(entry => DemoPeople.Sign(entry, people));
            store.LogEntries.AddRange(log);
        }

        new DemoProgress(world.Scene, start).AddTo(store);
        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
    }

    private async Task<Dictionary<string, Site>> AddSitesAsync(FruitWatchStore store, long cooperative, CancellationToken stop)
    {
        var sites = new Dictionary<string, Site>();
        foreach (var place in DemoSite.All)
        {
            var station = FeedOf(cooperative, place.HistoryKey, $"{place.Name} station", DemoFeedDescriptions.OfStation);
            var outlook = FeedOf(cooperative, place.ForecastKey, $"{place.Name} forecast", DemoFeedDescriptions.OfForecast);
            store.Feeds.AddRange(station, outlook);
            await store.SaveChangesAsync(stop);
            var (latitude, longitude) = world.Scene.PositionOf(place);
            var site = new Site
            {
                CooperativeId = cooperative,
                Name = place.Name,
                Latitude = latitude,
                Longitude = longitude,
                Elevation = place.Place.Elevation,
                Coastal = place.Coastal,
                ZoneId = DemoSite.ZoneId,
                StationFeedId = station.Id,
                ForecastFeedId = outlook.Id,
            };
            store.Add(site);
            await store.SaveChangesAsync(stop);
            sites.Add(place.Key, site);
        }

        return sites;
    }

    private Feed FeedOf(long cooperative, string key, string title, Func<string, string, string, string> describe) => new()
    {
        CooperativeId = cooperative,
        Key = key,
        Title = title,
        Description = describe(key, title, world.Scene.Attribution),
    };

    private static async Task AddPeopleAsync(FruitWatchStore store, long cooperative, Dictionary<string, Site> sites, CancellationToken stop)
    {
        foreach (var grower in DemoGrower.All)
        {
            var person = new Person { CooperativeId = cooperative, Name = grower.Name, Email = grower.Email, Language = grower.Language, Role = grower.Role };
            person.Sites.AddRange(grower.Sites.Select(site => new PersonSite { SiteId = sites[site].Id }));
            store.Add(person);
            // One by one, so that their keys are the same in every demo.
            await store.SaveChangesAsync(stop);
        }
    }

    private Bed RowOf(DemoBed plan, long siteId)
    {
        var made = start.PlusDays(-plan.Age);
        var bed = new Bed
        {
            SiteId = siteId,
            Name = plan.Name,
            SpeciesKey = plan.Species,
            Area = plan.Area,
            InoculatedOn = made,
            Shade = plan.Shade,
            MulchCm = plan.StrawMulch,
            MulchMaterialKey = plan.StrawMulch > 0 ? "cereal-straw" : null,
            Throughfall = plan.Throughfall,
            Cover = plan.Cover,
        };
        bed.Layers.AddRange(plan.Layers.Select(layer => new BedLayer { MaterialKey = layer.Material, Depth = layer.Depth, LaidOn = made }));
        return bed;
    }

    private List<LogEntry> LogOf(DemoBed plan, Bed bed)
    {
        var site = DemoSite.All.Single(s => s.Key == plan.Site);
        var log = new List<LogEntry>();
        var eve = start.PlusDays(-1);
        var truth = world.Truth.Account(site, new BedData(bed, log), eve);
        for (var date = bed.InoculatedOn.PlusDays(1); date <= eve; date = date.PlusDays(1))
        {
            var before = Period.DaysBetween(date, start);
            var entries = plan.Log.Where(entry => entry.DaysBefore == before).Select(entry => RowOf(entry, bed, date, site)).ToList();
            if (before > plan.LeftAlone)
            {
                var work = world.Work.On(new BedToday(site, new BedData(bed, log), truth!, date, []));
                entries.AddRange(work.Where(entry => !(plan.CoverForgotten && entry.Kind == LogKinds.Cover)));
            }

            if (entries.Count == 0)
                continue;
            log.AddRange(entries);
            truth = world.Truth.Account(site, new BedData(bed, log), eve);
        }

        foreach (var entry in log)
            entry.RecordedAt = DemoClock.At(entry.On, entry.At);
        return log;
    }

    private static LogEntry RowOf(Staged entry, Bed bed, LocalDate date, DemoSite site) => new()
    {
        BedId = bed.Id,
        On = date,
        At = new LocalTime(17, 30),
        Kind = entry.Kind,
        Amount = entry.Amount,
        Text = entry.Text,
        RecordedBy = DemoGrower.At(site.Key)[^1].Email,
    };
}
