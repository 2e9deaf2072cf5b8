using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.Feeds;

/// <summary>All feeds, site by site, with how each has been answering.</summary>
[Right(Right.ReadFeeds)]
internal sealed class IndexModel(FruitWatchStore store, WeatherPull pull, FeedTrials trials, IClock clock) : PageModel
{
    /// <summary>What was just done, to be said: one of the words in <see cref="OnGetAsync"/>.</summary>
    public string? Done { get; private set; }

    public Instant Now { get; } = clock.GetCurrentInstant();

    public IReadOnlyList<Site> Sites { get; private set; } = [];

    /// <summary>By site, in order of trust.</summary>
    public ILookup<long, SiteFeedHealth> Health { get; private set; } = null!;

    public IReadOnlyList<Feed> Unused { get; private set; } = [];

    public async Task OnGetAsync(string? done, CancellationToken stop)
    {
        Done = done is "saved" or "asked" or "confirmed" or "deleted" ? done : null;
        Sites = await store.Sites.AsNoTracking().OrderBy(site => site.Id).ToListAsync(stop);
        Health = await SiteFeedHealth.LoadAsync(store, null, Now, stop);
        var used = Health.SelectMany(site => site).Select(health => health.FeedId).ToHashSet();
        Unused = [.. (await store.Feeds.AsNoTracking().OrderBy(feed => feed.Id).ToListAsync(stop)).Where(feed => !used.Contains(feed.Id))];
    }

    /// <summary>Asks a feed for a site at once, though never against its host's wish.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostAskAsync(long site, long feed, CancellationToken stop)
    {
        if (await FindAsync(site, feed, stop) is null)
            return NotFound();
        await pull.PullAsync(store, site, PullFor.Now, feed, null, stop);
        return LocalRedirect(Back(site, feed, "asked"));
    }

    /// <summary>Somebody has looked at the numbers that were held: they are right.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostUnitsAsync(long site, long feed, CancellationToken stop)
    {
        if (await FindAsync(site, feed, stop) is not { } found)
            return NotFound();
        found.Told.UnitsConfirmed = found.Feed.Version;
        await store.SaveChangesAsync(stop);
        store.ChangeTracker.Clear();
        await pull.PullAsync(store, site, PullFor.Now, feed, null, stop);
        return LocalRedirect(Back(site, feed, "confirmed"));
    }

    /// <summary>Tries the feed with the unit that would fit, on the answer that is there.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostMendAsync(long site, long feed, CancellationToken stop)
    {
        if (await FindAsync(site, feed, stop) is not { } found)
            return NotFound();
        var question = (await SiteFeedHealth.LoadAsync(store, [site], Now, stop))[site].FirstOrDefault(health => health.FeedId == feed)?.Question;
        if (question is not { Pointer: { } pointer, Value: { } value } || DescriptionText.Mended(found.Feed.Description, pointer, value) is not { } mended)
            return LocalRedirect(FormattableString.Invariant($"/feeds/{feed}"));
        try
        {
            var draft = await trials.MakeAsync(found.Site, found.Feed, trials.Parse(mended), new TrialChange(), stop);
            return LocalRedirect($"/feeds/trials/{draft.Id}?done=mended");
        }
        catch (FeedDescriptionException)
        {
            // What else is wrong with it is told on its own page.
            return LocalRedirect(FormattableString.Invariant($"/feeds/{feed}"));
        }
    }

    private async Task<(Site Site, Feed Feed, SiteFeed Told)?> FindAsync(long siteId, long feedId, CancellationToken stop)
    {
        var site = await store.Sites.AsNoTracking().SingleOrDefaultAsync(row => row.Id == siteId, stop);
        var feed = await store.Feeds.AsNoTracking().SingleOrDefaultAsync(row => row.Id == feedId, stop);
        if (site is null || feed is null || FilledSlot.Of(site).All(slot => slot.FeedId != feedId))
            return null;
        var told = await store.SiteFeeds.SingleOrDefaultAsync(row => row.SiteId == siteId && row.FeedId == feedId, stop);
        return (site, feed, told ?? new SiteFeed { SiteId = siteId, FeedId = feedId });
    }

    private static string Back(long site, long feed, string done) => FormattableString.Invariant($"/feeds?done={done}#feed-{site}-{feed}");
}
