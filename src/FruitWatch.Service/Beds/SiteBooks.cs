using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Learning;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Beds;

/// <summary>
/// Opens the books of sites: loads facts (beds, log, weather) in a fixed number of queries and recomputes everything else.
/// </summary>
internal sealed class SiteBooks(BedCatalogue catalogue, IClock clock)
{
    /// <summary>Weather from so long before the oldest bed warms up the soil and shows the season.</summary>
    private const int DaysBefore = 60;

    /// <summary>Books of all sites of a cooperative, or of all there are.</summary>
    public async Task<IReadOnlyList<SiteBook>> OpenAllAsync(FruitWatchStore store, CancellationToken stop)
    {
        var ids = await store.Sites.OrderBy(s => s.Id).Select(s => s.Id).ToListAsync(stop);
        return await OpenAsync(store, ids, stop);
    }

    /// <summary>Books of some sites, in order of their keys.</summary>
    public async Task<IReadOnlyList<SiteBook>> OpenAsync(FruitWatchStore store, IReadOnlyCollection<long> siteIds, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var sites = await SiteData.LoadAsync(store, siteIds, stop);
        if (sites.Count == 0)
            return [];

        var zones = sites.ToDictionary(s => s.Site.Id, s => DateTimeZoneProviders.Tzdb[s.Site.ZoneId]);
        // The years that make a climate: what is usual at a site, and what its past years would bring to its beds.
        var weather = await store.LoadWeatherAsync(siteIds, now.InUtc().Date.PlusYears(-WeatherPull.YearsBack), now.InUtc().Date.PlusDays(1), stop);
        var forecasts = await LoadForecastsAsync(store, siteIds, now, stop);
        var notices = await store.Notices.AsNoTracking()
            .Where(n => EF.Parameter(siteIds.ToArray()).Contains(n.SiteId) && n.State == NoticeState.Open)
            .OrderBy(n => n.Id).ToListAsync(stop);
        var feedIds = forecasts.SelectMany(site => site).Select(f => f.FeedId)
            .Concat(sites.SelectMany(s => FilledSlot.Of(s.Site)).Select(slot => slot.FeedId)).Distinct().ToArray();
        var titles = await store.Feeds.AsNoTracking()
            .Where(f => EF.Parameter(feedIds).Contains(f.Id))
            .Select(f => new { f.Id, f.Title }).ToDictionaryAsync(f => f.Id, f => f.Title, stop);
        var noticesOf = notices.ToLookup(n => n.BedId);
        return
        [
            .. sites.Select(s => Open(
                s, zones[s.Site.Id], now, [.. weather[s.Site.Id]], [.. forecasts[s.Site.Id]], titles, noticesOf)),
        ];
    }

    private SiteBook Open(
        SiteData data,
        DateTimeZone zone,
        Instant now,
        IReadOnlyList<WeatherRecord> records,
        IReadOnlyList<ForecastIssue> forecasts,
        Dictionary<long, string> titles,
        ILookup<long?, IssuedNotice> notices)
    {
        var site = data.Site;
        var today = now.InZone(zone).Date;
        var latest = forecasts.Count > 0 ? forecasts[0] : null;
        var inUse = latest is null
            ? null
            : new ForecastInUse(latest.Id, titles.GetValueOrDefault(latest.FeedId, ""), latest.IssuedAt, now - latest.IssuedAt);
        var payloads = forecasts.Select(issue => ForecastPayload.Read(issue.Payload)).ToList();
        var merged = SiteWeather.Merge(
            SiteSources.Of(site, today, records, forecasts.Zip(payloads), titles), SiteSources.Gauge(data.Beds.SelectMany(b => b.Log)));
        var days = Complete(merged.Days, data.Beds, today);
        var ladder = new EvaporationLadder(site.Latitude, site.Elevation, site.Coastal);
        var forcing = days.Count > 0 ? SiteForcing.Of(days, ladder) : null;
        return new SiteBook(
            site, zone, today, days, inUse, Open(data.Beds, forcing, today, notices))
        {
            Known = merged.Days,
            Merged = merged,
            Ensemble = payloads.Count > 0 ? payloads[0].Members : [],
            Ladder = ladder,
        };
    }

    private static IReadOnlyList<WeatherDay> Complete(IReadOnlyList<WeatherDay> known, IReadOnlyList<BedData> beds, LocalDate today)
    {
        if (known.Count == 0)
            return [];
        // No further back than the beds need, and filled before the first known day only as far as their account goes.
        var oldest = beds.Select(b => b.Bed.InoculatedOn).DefaultIfEmpty(today).Min();
        var from = LocalDate.Min(LocalDate.Max(known[0].Date, oldest.PlusDays(-DaysBefore)), oldest);
        return GapFilling.Complete(known, from, known[^1].Date, new Climatology(known)).Days;
    }

    private BedBook[] Open(IReadOnlyList<BedData> beds, SiteForcing? forcing, LocalDate today, ILookup<long?, IssuedNotice> notices)
    {
        var books = new BedBook[beds.Count];
        Parallel.For(
            0,
            beds.Count,
            () => new BedLearning(catalogue),
            (i, _, learning) =>
            {
                books[i] = Open(beds[i], forcing, today, learning, [.. notices[beds[i].Bed.Id]]);
                return learning;
            },
            _ => { });
        return books;
    }

    private BedBook Open(BedData data, SiteForcing? forcing, LocalDate today, BedLearning learning, IReadOnlyList<IssuedNotice> notices)
    {
        var bed = BedReading.ToModel(data.Bed, catalogue);
        var log = BedReading.Log(data, catalogue);
        var problem = forcing is null ? AccountProblem.NoWeather
            : bed.Inoculated < forcing.First ? AccountProblem.WeatherStartsLater
            : bed.Inoculated >= forcing.End ? AccountProblem.NotYetMade
            : AccountProblem.None;
        if (problem != AccountProblem.None)
            return new BedBook(data.Bed, bed, data.Log, log, null, problem, notices);

        var yesterday = LocalDate.Min(today, forcing!.End).PlusDays(-1);
        var learned = learning.Run(bed, log, forcing, yesterday, (ulong)data.Bed.Id, OutlookInputs.UsualMembers);
        // The account that people read is that of the middle of what was learned; without anything seen, that of the catalogue.
        var known = learned.IsPrior ? bed : bed with { EvaporationMultiplier = learned.Evaporation.P50, GrowthMultiplier = learned.Growth.P50 };
        var account = BedAccount.Run(known, log, forcing, catalogue, forcing.End.PlusDays(-1));
        var standing = new BedState(learned.Lanes.Length);
        standing.StartFrom(learned.End, learned.Lanes.AsSpan());
        return new BedBook(data.Bed, bed, data.Log, log, account, problem, notices)
        {
            Learned = LearnedBed.Of(learned),
            Standing = standing,
        };
    }

    private static async Task<ILookup<long, ForecastIssue>> LoadForecastsAsync(
        FruitWatchStore store, IReadOnlyCollection<long> siteIds, Instant now, CancellationToken stop)
    {
        // Forecasts of the last weeks: enough to bridge a history feed that runs days behind, and short outages.
        var since = now - Duration.FromDays(21);
        var wanted = siteIds.ToArray();
        var recent = await store.Forecasts.AsNoTracking()
            .Where(f => EF.Parameter(wanted).Contains(f.SiteId) && f.FetchedAt >= since && f.FetchedAt <= now)
            .OrderByDescending(f => f.FetchedAt).ThenByDescending(f => f.Id).ToListAsync(stop);
        return recent.ToLookup(f => f.SiteId);
    }
}
