using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Feeds;

/// <summary>Why a draft was not saved, or a feed not deleted.</summary>
internal enum FeedRefusal
{
    /// <summary>It was not looked at with this description, or gave no days.</summary>
    NotSeenGood,

    /// <summary>It is older than a day.</summary>
    TooOld,

    /// <summary>It needs a key, and none is there.</summary>
    NoKey,

    /// <summary>A question about its units is open.</summary>
    UnitsAsked,

    /// <summary>It is the draft of another feed, or of a new one.</summary>
    OtherFeed,

    /// <summary>A site uses it.</summary>
    InUse,

    /// <summary>Weather that it told is kept.</summary>
    Told,
}

/// <summary>A feed cannot be saved or deleted.</summary>
internal sealed class FeedRefusedException(FeedRefusal why, IReadOnlyList<string>? sites = null) : Exception(why.ToString())
{
    public FeedRefusal Why { get; } = why;

    /// <summary>Names of the sites in the way.</summary>
    public IReadOnlyList<string> Sites { get; } = sites ?? [];
}

/// <summary>Puts drafts that were seen to be good among a cooperative's feeds.</summary>
internal sealed class FeedShelf(FruitWatchStore store, FeedTrials trials, ServiceOptions options, IClock clock)
{
    /// <summary>Saves a draft as a new feed and lets it fill slots of its site.</summary>
    /// <param name="draft">The draft; it is used up.</param>
    /// <param name="site">Its site.</param>
    /// <param name="slots">What the site is to use it for; may be empty.</param>
    /// <param name="unitsConfirmed">Somebody looked at the doubts about its units and found them right.</param>
    /// <param name="stop">Stops it.</param>
    /// <exception cref="FeedRefusedException">It was not seen to be good.</exception>
    public async Task<Feed> SaveAsync(FeedDraft draft, Site site, IReadOnlyCollection<FeedSlot> slots, bool unitsConfirmed, CancellationToken stop)
    {
        if (draft.FeedId is not null)
            throw new FeedRefusedException(FeedRefusal.OtherFeed);
        var seen = await CheckedAsync(draft, site, unitsConfirmed, stop);
        await using var whole = await store.JoinAsync(stop);
        var feed = new Feed
        {
            CooperativeId = draft.CooperativeId,
            Key = await FreeKeyAsync(draft.CooperativeId, seen.Description.Id, stop),
            Title = draft.Title,
            Description = draft.Description,
            SealedKey = draft.SealedKey,
        };
        store.Feeds.Add(feed);
        await store.SaveChangesAsync(stop);
        await UseAsync(feed, draft, slots, seen.Question is not null, stop);
        await KeepFileAsync(feed, draft, seen.Description, stop);
        await whole.CommitAsync(stop);
        return feed;
    }

    /// <summary>Changes a feed to what a draft of it was seen to be.</summary>
    /// <inheritdoc cref="SaveAsync"/>
    public async Task ChangeAsync(
        Feed feed, FeedDraft draft, Site site, IReadOnlyCollection<FeedSlot> slots, bool unitsConfirmed, CancellationToken stop)
    {
        if (draft.FeedId != feed.Id)
            throw new FeedRefusedException(FeedRefusal.OtherFeed);
        var seen = await CheckedAsync(draft, site, unitsConfirmed, stop);
        await using var whole = await store.JoinAsync(stop);
        (feed.Title, feed.Description, feed.SealedKey) = (draft.Title, draft.Description, draft.SealedKey);
        await store.SaveChangesAsync(stop);
        await UseAsync(feed, draft, slots, seen.Question is not null, stop);
        await KeepFileAsync(feed, draft, seen.Description, stop);
        await whole.CommitAsync(stop);
    }

    /// <summary>Deletes a feed that nobody uses and of which nothing is kept.</summary>
    /// <exception cref="FeedRefusedException">A site uses it, or weather that it told is kept.</exception>
    public async Task DeleteAsync(Feed feed, CancellationToken stop)
    {
        var users = await store.Sites.Where(site => site.ForecastFeedId == feed.Id || site.StationFeedId == feed.Id || site.HistoryFeedId == feed.Id)
            .OrderBy(site => site.Id).Select(site => site.Name).ToListAsync(stop);
        if (users.Count > 0)
            throw new FeedRefusedException(FeedRefusal.InUse, users);
        if (await store.Weather.AnyAsync(day => day.FeedId == feed.Id, stop) || await store.Forecasts.AnyAsync(issue => issue.FeedId == feed.Id, stop))
            throw new FeedRefusedException(FeedRefusal.Told);
        await store.FeedDrafts.Where(draft => draft.FeedId == feed.Id).ExecuteDeleteAsync(stop);
        store.Feeds.Remove(feed);
        await store.SaveChangesAsync(stop);
    }

    private async Task<TrialSeen> CheckedAsync(FeedDraft draft, Site site, bool unitsConfirmed, CancellationToken stop)
    {
        if (draft.MadeAt < clock.GetCurrentInstant() - FeedTrials.Lifetime)
            throw new FeedRefusedException(FeedRefusal.TooOld);
        // Looked at again, and not only at what was noted of it: what is saved is what a look gives.
        var seen = await trials.LookAsync(draft, site, stop);
        if (!draft.Good || !seen.Good)
            throw new FeedRefusedException(FeedRefusal.NotSeenGood);
        if (seen.NeedsKey)
            throw new FeedRefusedException(FeedRefusal.NoKey);
        if (seen.Question is not null && !unitsConfirmed)
            throw new FeedRefusedException(FeedRefusal.UnitsAsked);
        return seen;
    }

    private async Task UseAsync(Feed feed, FeedDraft draft, IReadOnlyCollection<FeedSlot> slots, bool unitsConfirmed, CancellationToken stop)
    {
        var site = await store.Sites.SingleAsync(row => row.Id == draft.SiteId, stop);
        foreach (var slot in slots)
        {
            switch (slot)
            {
                case FeedSlot.Forecast:
                    site.ForecastFeedId = feed.Id;
                    break;
                case FeedSlot.Station:
                    site.StationFeedId = feed.Id;
                    break;
                default:
                    site.HistoryFeedId = feed.Id;
                    break;
            }
        }

        site.Station = draft.Station ?? site.Station;
        if (unitsConfirmed)
            await ConfirmUnitsAsync(feed, site, stop);
        store.FeedDrafts.Remove(draft);
        await store.SaveChangesAsync(stop);
    }

    private async Task ConfirmUnitsAsync(Feed feed, Site site, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var told = await store.SiteFeeds.SingleOrDefaultAsync(row => row.SiteId == site.Id && row.FeedId == feed.Id, stop);
        if (told is null)
            store.SiteFeeds.Add(told = new SiteFeed { SiteId = site.Id, FeedId = feed.Id, FirstTriedAt = now, NextTryAt = now });
        (told.UnitsConfirmed, told.Question) = (feed.Version, null);
    }

    /// <summary>The file that was looked at becomes the one that is read each morning.</summary>
    private async Task KeepFileAsync(Feed feed, FeedDraft draft, FeedDescription description, CancellationToken stop)
    {
        if (!description.IsUpload || draft.Body is not { } body)
            return;
        Directory.CreateDirectory(options.FeedFolder(feed.CooperativeId));
        var ending = draft.MediaType?.Contains("json", StringComparison.Ordinal) == true ? ".json" : ".csv";
        var path = Path.Combine(options.FeedFolder(feed.CooperativeId), feed.Key + ending);
        await File.WriteAllBytesAsync(path + ".new", PackedAnswer.Unpack(body), stop);
        File.Move(path + ".new", path, overwrite: true);
    }

    private async Task<string> FreeKeyAsync(long cooperativeId, string wanted, CancellationToken stop)
    {
        var taken = await store.Feeds.Where(feed => feed.CooperativeId == cooperativeId && feed.Key.StartsWith(wanted)).Select(feed => feed.Key).ToListAsync(stop);
        if (!taken.Contains(wanted))
            return wanted;
        return Enumerable.Range(2, taken.Count + 1).Select(number => FormattableString.Invariant($"{wanted}-{number}")).First(key => !taken.Contains(key));
    }
}
