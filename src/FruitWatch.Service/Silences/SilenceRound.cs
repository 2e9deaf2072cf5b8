using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Silences;

/// <summary>
/// Tells the coordinators once when a feed has given nothing good for two days: one mail for a feed, whatever number of sites. That it
/// was told is saved together with the mail.
/// </summary>
internal sealed class SilenceRound(StoreFactory stores, ServiceOptions options, IClock clock)
{
    /// <summary>Sites that fell silent a little later are told of in the same mail.</summary>
    private static readonly Duration s_sameSilence = Duration.FromHours(36);

    /// <summary>Not at night: from the site's morning until then.</summary>
    private static readonly LocalTime s_notAfter = new(20, 0);

    // After a stop of our own the first failure is no silence of the feed.
    private const int FewestFailures = 2;

    private static readonly Duration s_ofUse = Duration.FromDays(2);

    /// <summary>Tells what is new.</summary>
    /// <returns>How many mails went into the outbox.</returns>
    public async Task<int> ComposeAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var now = clock.GetCurrentInstant();
        var before = now - SiteFeedHealth.SilentAfter;
        // Most ticks end here.
        if (!await store.AnySilentAsync(before, stop))
            return 0;
        var sites = await store.Sites.AsNoTracking().ToDictionaryAsync(site => site.Id, stop);
        var untold = await store.SiteFeeds.AsNoTracking().Where(row => row.SilenceToldAt == null && row.ProblemCode != null && row.FailuresInARow >= FewestFailures)
            .ToDictionaryAsync(row => (row.SiteId, row.FeedId), stop);
        var health = await SiteFeedHealth.LoadAsync(store, null, now, stop);
        var silent = health.SelectMany(site => site.DistinctBy(one => one.FeedId))
            .Where(one => untold.ContainsKey((one.SiteId, one.FeedId)))
            .Select(one => (Health: one, Since: SinceOf(untold[(one.SiteId, one.FeedId)])))
            .Where(one => now - one.Since >= s_sameSilence)
            .GroupBy(one => one.Health.FeedId)
            .Where(feed => feed.Any(one => one.Since <= before && IsDay(sites[one.Health.SiteId], now)))
            .ToList();
        var composed = 0;
        foreach (var feed in silent)
        {
            var told = new List<SilentSite>();
            foreach (var (one, since) in feed.OrderBy(one => one.Health.SiteId))
                told.Add(new SilentSite(sites[one.SiteId], one, since, await ForecastOfAsync(store, sites[one.SiteId], stop)));
            composed += await TellAsync(store, feed.Key, new SilentFeed(told[0].Health.Title, told.Min(site => site.Since), told), now, stop);
        }

        return composed;
    }

    private static Instant SinceOf(SiteFeed row) => row.LastGoodAt ?? row.FirstTriedAt;

    private static bool IsDay(Site site, Instant now)
    {
        var zone = DateTimeZoneProviders.Tzdb[site.ZoneId];
        return LocalMorning.Come(now, site.MorningAt, zone) is { } day && now < LocalMorning.Of(day, s_notAfter, zone);
    }

    private static Task<Instant?> ForecastOfAsync(FruitWatchStore store, Site site, CancellationToken stop) =>
        store.Forecasts.Where(issue => issue.SiteId == site.Id).MaxAsync(issue => (Instant?)issue.IssuedAt, stop);

    private async Task<int> TellAsync(FruitWatchStore store, long feedId, SilentFeed feed, Instant now, CancellationToken stop)
    {
        var people = await PeopleAsync(store, feed.Sites, stop);
        var cooperativeId = feed.Sites[0].Site.CooperativeId;
        var cooperative = await store.Cooperatives.Where(row => row.Id == cooperativeId).Select(row => row.Name).SingleAsync(stop);
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        var written = 0;
        foreach (var (person, own) in people)
        {
            var words = Words.For(person.Language, person.Units);
            var mail = SilenceWriter.Write(feed with { Sites = own }, person, cooperative, options.BaseUrl, words);
            var key = FormattableString.Invariant($"silence:{feedId}:{feed.Since:uuuuMMdd'T'HHmmss}:{person.Id}");
            written += await store.AddIfNewAsync(
                NewMail.To(person, key, mail, options, now, now + s_ofUse), stop) ? 1 : 0;
        }

        var told = feed.Sites.Select(site => site.Site.Id).ToArray();
        Instant? at = now;
        await store.SiteFeeds.Where(row => row.FeedId == feedId && EF.Parameter(told).Contains(row.SiteId))
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.SilenceToldAt, at), stop);
        await transaction.CommitAsync(stop);
        return written;
    }

    /// <summary>The cooperative's coordinators with all the sites; without one, everybody with the sites that are theirs.</summary>
    private static async Task<IReadOnlyList<(Person Person, IReadOnlyList<SilentSite> Sites)>> PeopleAsync(
        FruitWatchStore store, IReadOnlyList<SilentSite> sites, CancellationToken stop)
    {
        var cooperativeId = sites[0].Site.CooperativeId;
        var people = await store.PeopleToTell().AsNoTracking().Include(person => person.Sites)
            .Where(person => person.CooperativeId == cooperativeId).OrderBy(person => person.Id).ToListAsync(stop);
        var coordinators = people.FindAll(person => person.Role == Role.Coordinator);
        if (coordinators.Count > 0)
            return [.. coordinators.Select(person => (person, sites))];
        return
        [
            .. people
                .Select(person => (Person: person, Sites: (IReadOnlyList<SilentSite>)[.. sites.Where(site => person.Sites.Any(own => own.SiteId == site.Site.Id))]))
                .Where(one => one.Sites.Count > 0),
        ];
    }
}
