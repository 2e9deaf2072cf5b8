using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Log;
using FruitWatch.Service.Notices;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using NodaTime;
using BedRow = FruitWatch.Store.Entities.Bed;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Tests.Cooperatives;

/// <summary>A cooperative drawn at random from a seed: rows in every table that is exported, with values at their limits.</summary>
internal sealed class AnyCooperative(int seed)
{
    private static readonly string[] s_texts =
    [
        "Orchard", "=1+1", "Ñandú 北 🍄", "\"quoted\", with comma", "two\nlines", " leading and trailing ", "'apostrophe", "\u202eright to left", "a\tb", "</script><b>", "\\ and /",
    ];

    private readonly Random random = new(seed);

    public async Task<long> MakeAsync(FruitWatchStore store)
    {
        var cooperative = new Cooperative { Name = $"Cooperative {seed} {Line()}", GrowersReadAll = Yes() };
        await AddAsync(store, cooperative);
        var feeds = await ManyAsync(store, 1, 4, i => new Feed
        {
            CooperativeId = cooperative.Id,
            Key = $"feed-{i}",
            Title = Line(),
            Description = Yes() ? """{ "format" : "weather-feed/1",  "number": 1.50, "text": "é\u00e9\n" }""" : "not JSON: " + Text(),
            SealedKey = Yes() ? "sealed" : null,
        });
        var sites = await ManyAsync(store, 1, 4, _ => new Site
        {
            CooperativeId = cooperative.Id,
            Name = Line(),
            Latitude = Real(-90, 90),
            Longitude = Real(-180, 180),
            Elevation = Real(-400, 4000),
            ZoneId = Of("America/Santiago", "Europe/Madrid", "UTC"),
            Coastal = Yes(),
            MorningAt = Time(),
            ForecastFeedId = Maybe(feeds)?.Id,
            StationFeedId = Maybe(feeds)?.Id,
            HistoryFeedId = Maybe(feeds)?.Id,
            Station = Yes() ? Text() : null,
        });
        var people = await ManyAsync(store, 1, 5, i => new Person
        {
            CooperativeId = cooperative.Id,
            Name = Line(),
            Email = $"Somebody.{i}+{seed}@Example.org",
            EmailConfirmedAt = Yes() ? Moment() : null,
            Role = Of(Role.Coordinator, Role.Grower, Role.FarmHand, Role.Viewer),
            Language = Of("en", "es"),
            Units = Of(Units.Metric, Units.UsCustomary),
            ZoneId = Yes() ? "Asia/Kolkata" : null,
            MorningAt = Yes() ? Time() : null,
            QuietFrom = Time(),
            QuietUntil = Time(),
            Active = Yes(),
        });
        await AllAsync(store, people.SelectMany(person => sites.Where(_ => Yes()).Select(site => new PersonSite { PersonId = person.Id, SiteId = site.Id })));
        var beds = await ManyAsync(store, 1, 5, _ => Bed(Of(sites).Id));
        await AllAsync(store, people.SelectMany(person => beds.Where(_ => Yes()).Select(bed => new BedGrower { PersonId = person.Id, BedId = bed.Id })));
        await AllAsync(store, people.SelectMany(person => beds.Where(_ => Yes()).Select(bed => new PersonBedLeftOut { PersonId = person.Id, BedId = bed.Id })));
        await LogAsync(store, beds, people);
        await WeatherAsync(store, sites, feeds);
        await AllAsync(store, beds.SelectMany(bed => Enumerable.Range(0, random.Next(4)).Select(day => new OutlookIssued
        {
            BedId = bed.Id,
            On = Day(day),
            IssuedAt = Moment(),
            ModelVersion = "1",
            Score = Real(0, 100),
            Phase = "SpawnRun",
            Payload = """{"days":[0.1,1e-7,null]}""",
        })));
        await AllAsync(store, beds.SelectMany(bed => Enumerable.Range(1, random.Next(4)).Select(episode => Notice(bed, episode))));
        await AllAsync(store, Enumerable.Range(0, random.Next(3)).Select(i => new Webhook
        {
            CooperativeId = cooperative.Id,
            Name = Line(),
            Address = $"https://example.org/hook/{i}",
            Events = string.Join(' ', WebhookEvents.All.Where(_ => Yes()).Append(WebhookEvents.RoundDone).Distinct()),
            SealedSecret = "sealed",
            Active = Yes(),
            MadeAt = Moment(),
        }));
        return cooperative.Id;
    }

    private BedRow Bed(long siteId)
    {
        var bed = new BedRow
        {
            SiteId = siteId,
            Name = Line(),
            SpeciesKey = Of([.. BedCatalogue.BuiltIn.Species.Keys]),
            Area = Real(0.1, 100),
            InoculatedOn = Day(0),
            Shade = Real(0, 1),
            MulchCm = Real(0, 10),
            MulchMaterialKey = Yes() ? "cereal-straw" : null,
            Cover = Of(Cover.None, Cover.Sheet, Cover.PiercedSheet),
            Wetness = Real(0, 1),
            SpawnRate = Yes() ? Real(0.1, 4) : null,
            Throughfall = Real(0, 1),
            RunOn = Real(1, 3),
            SunOffset = Real(0, 3),
            EvaporationMultiplier = Real(0.5, 2),
            GrowthMultiplier = Real(0.5, 2),
            RetiredOn = Yes() ? Day(300) : null,
        };
        bed.Layers.AddRange(Enumerable.Range(0, 1 + random.Next(3)).Select(_ => new BedLayer { MaterialKey = "hardwood-chips", Depth = Real(0.01, 0.4), LaidOn = Day(0) }));
        return bed;
    }

    private async Task LogAsync(FruitWatchStore store, IReadOnlyList<BedRow> beds, IReadOnlyList<Person> people)
    {
        LogRow? before = null;
        for (var i = 0; i < random.Next(30); i++)
        {
            var entry = new LogRow
            {
                BedId = Of(beds).Id,
                On = Day(random.Next(200)),
                At = Time(),
                Kind = LogKinds.Watered,
                Amount = Real(0.1, 90),
                Note = Yes() ? Text() : null,
                RecordedAt = Moment(),
                RecordedBy = Of<string?>(null, "Rosalia", $"person:{Of(people).Id}", "token:12", "person:999999"),
            };
            if (before is not null && Yes())
                (before.UndoneAt, entry.ReplacesId) = (Moment(), before.Id);
            await AddAsync(store, entry);
            before = entry;
        }
    }

    private async Task WeatherAsync(FruitWatchStore store, IReadOnlyList<Site> sites, List<Feed> feeds)
    {
        foreach (var site in sites)
        {
            foreach (var feed in feeds)
            {
                await AllAsync(store, Enumerable.Range(0, random.Next(12)).Select(day => WeatherRecord.Of(
                    site.Id, feed.Id, new WeatherDay(Day(day), Gap(-30, 45), Gap(-40, 30), Gap(0, 200)) { Humidity = Gap(0, 100), DewPoint = Gap(-40, 30), Wind = Gap(0, 30) }, Moment(), Moment())));
                var issues = await ManyAsync(store, 0, 4, _ => new ForecastIssue
                { SiteId = site.Id, FeedId = feed.Id, IssuedAt = Moment(), FetchedAt = Moment(), FirstDay = Day(0), Days = 16, Payload = """[[21.5,9.25,-0.0]]""" });
                if (feed == feeds[0])
                    await AllAsync(store, Enumerable.Range(0, random.Next(5)).Select(day => new SiteMorning
                    { SiteId = site.Id, On = Day(day), DoneAt = Moment(), Late = Yes(), ForecastIssueId = Maybe(issues)?.Id, ForecastIssuedAt = Yes() ? Moment() : null, FeedState = "fresh", Note = Yes() ? Text() : "" }));
            }
        }
    }

    private IssuedNotice Notice(BedRow bed, int episode)
    {
        var draft = new NoticeDraft(NoticeKind.Water, Day(episode), Day(episode + 1), NoticeConfidence.Firm, NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, Real(0, 1)))) { Amount = Real(0, 90) };
        var row = NoticeRows.Open(bed.SiteId, bed.Id, new NoticeOpened(NoticeKind.Water, episode, draft), Day(0), Moment());
        if (Yes())
            NoticeRows.Close(row, new NoticeClosed(NoticeKind.Water, 0, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged), Day(2), Instant.FromUtc(2026, 5, 2, 5, 0));
        return row;
    }

    private async Task<List<T>> ManyAsync<T>(FruitWatchStore store, int least, int most, Func<int, T> make)
        where T : class
    {
        List<T> rows = [.. Enumerable.Range(0, random.Next(least, most)).Select(make)];
        foreach (var row in rows)
            await AddAsync(store, row);
        return rows;
    }

    private static async Task AllAsync(FruitWatchStore store, IEnumerable<object> rows)
    {
        store.AddRange(rows);
        await store.SaveChangesAsync();
    }

    private static async Task AddAsync(FruitWatchStore store, object row)
    {
        store.Add(row);
        await store.SaveChangesAsync();
    }

    private bool Yes() => random.Next(2) == 0;

    private T Of<T>(params IReadOnlyList<T> all) => all[random.Next(all.Count)];

    private T? Maybe<T>(IReadOnlyList<T> all)
        where T : class => all.Count > 0 && Yes() ? Of(all) : null;

    private string Text() => Of(s_texts);

    /// <summary>A name: it stands on one line.</summary>
    private string Line() => Of([.. s_texts.Where(text => !text.Any(char.IsControl))]);

    private double Real(double low, double high) => Of(low, high, low + (random.NextDouble() * (high - low)), Math.Round(low + (random.NextDouble() * (high - low)), 1));

    private double? Gap(double low, double high) => Yes() ? Real(low, high) : null;

    private static LocalDate Day(int after) => new LocalDate(2024, 2, 29).PlusDays(after);

    private LocalTime Time() => LocalTime.FromTicksSinceMidnight(random.NextInt64(NodaConstants.TicksPerDay) / 10 * 10);

    private Instant Moment() => Instant.FromUnixTimeTicks((random.NextInt64(17_000_000_000_000_000) - 1_000_000_000) / 10 * 10);
}
