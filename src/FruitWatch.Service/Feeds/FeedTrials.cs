using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Feeds;

/// <summary>
/// Tries a description on a feed's answer before it counts. The answer is kept with the draft, so that a changed description is tried
/// again without asking the feed.
/// </summary>
internal sealed class FeedTrials(
    FruitWatchStore store, FeedClient client, FeedKeys keys, HostMemory hosts, TrialPace pace, TrialReader reader, ServiceOptions options, IClock clock)
{
    /// <summary>Older drafts are neither shown nor saved: the weather they were tried on has passed.</summary>
    public static readonly Duration Lifetime = Duration.FromDays(1);

    /// <summary>Reads a description that somebody wrote.</summary>
    /// <exception cref="FeedDescriptionException">Anything is wrong; every problem is listed with its place.</exception>
    public FeedDescription Parse(string json) => FeedDescription.Parse(json, options.LocalStationSet);

    /// <summary>A draft and its site; null where there is none, or none any more.</summary>
    public async Task<(FeedDraft Draft, Site Site)?> FindAsync(Guid id, CancellationToken stop)
    {
        var since = clock.GetCurrentInstant() - Lifetime;
        if (await store.FeedDrafts.SingleOrDefaultAsync(row => row.Id == id && row.MadeAt >= since, stop) is not { } draft)
            return null;
        return (draft, await store.Sites.AsNoTracking().SingleAsync(site => site.Id == draft.SiteId, stop));
    }

    /// <summary>Makes a draft of a new feed. Nothing is asked yet.</summary>
    public async Task<FeedDraft> MakeAsync(Site site, FeedDescription description, TrialChange given, CancellationToken stop)
    {
        var draft = Draft(site, description, given);
        draft.SealedKey = Seal(given.Key);
        store.FeedDrafts.Add(draft);
        await store.SaveChangesAsync(stop);
        return draft;
    }

    /// <summary>Makes a draft that changes a feed, with the last answer that is kept of it. Nothing is asked.</summary>
    public async Task<FeedDraft> MakeAsync(Site site, Feed feed, FeedDescription description, TrialChange given, CancellationToken stop)
    {
        var draft = Draft(site, description, given with { Title = given.Title ?? feed.Title });
        draft.FeedId = feed.Id;
        draft.SealedKey = Seal(given.Key) ?? (GoesElsewhere(feed.Description, description.Json) ? null : feed.SealedKey);
        await TakeKeptAsync(draft, site, feed, stop);
        store.FeedDrafts.Add(draft);
        await SaveAsync(draft, site, stop);
        return draft;
    }

    /// <summary>Tries another description, or the same with another key or station, on the answer that is there.</summary>
    public async Task<TrialSeen> ChangeAsync(FeedDraft draft, Site site, FeedDescription? description, TrialChange given, CancellationToken stop)
    {
        var dropped = false;
        if (description is not null)
        {
            // A key is given for a host, and is not sent to another one because somebody changed the address.
            dropped = draft.SealedKey is not null && given.Key is null && GoesElsewhere(draft.Description, description.Json);
            if (dropped)
                draft.SealedKey = null;
            draft.Description = description.Json;
        }

        draft.SealedKey = Seal(given.Key) ?? draft.SealedKey;
        draft.Title = given.Title ?? draft.Title;
        draft.Station = given.Station ?? draft.Station;
        return await SaveAsync(draft, site, stop) with { KeyDropped = dropped };
    }

    /// <summary>Asks the feed, once.</summary>
    /// <exception cref="TrialTooOftenException">The cooperative asked too often; nothing was asked.</exception>
    public Task<TrialSeen> FetchAsync(FeedDraft draft, Site site, CancellationToken stop)
    {
        if (!Parse(draft.Description).IsUpload)
            pace.Count(draft.CooperativeId);
        return TakeAsync(draft, site, null, stop);
    }

    /// <summary>Takes a file that somebody hands in.</summary>
    public async Task<TrialSeen> HandInAsync(FeedDraft draft, Site site, Stream file, string? name, CancellationToken stop)
    {
        var folder = Directory.CreateTempSubdirectory("fruitwatch-");
        try
        {
            var path = Path.Combine(folder.FullName, PlainName(name));
            await using (var copy = File.Create(path))
                await CopyAsync(file, copy, DescriptionText.MostBytes(draft.Description), stop);
            return await TakeAsync(draft, site, path, stop);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>What the draft's description makes of the answer that is kept.</summary>
    public async Task<TrialSeen> LookAsync(FeedDraft draft, Site site, CancellationToken stop) =>
        await reader.ReadAsync(store, draft, site, Parse(draft.Description), await ChangedAsync(draft, stop), stop);

    /// <summary>What a feed's own description makes of the last answer that is kept of it. Nothing is asked and no draft is made.</summary>
    public async Task<TrialSeen> LookAsync(Feed feed, Site site, CancellationToken stop)
    {
        var description = Parse(feed.Description);
        var draft = Draft(site, description, new TrialChange(feed.Title));
        (draft.FeedId, draft.SealedKey) = (feed.Id, feed.SealedKey);
        await TakeKeptAsync(draft, site, feed, stop);
        return await reader.ReadAsync(store, draft, site, description, feed, stop);
    }

    private async Task<TrialSeen> TakeAsync(FeedDraft draft, Site site, string? path, CancellationToken stop)
    {
        var description = Parse(draft.Description);
        FetchedFeed fetched;
        try
        {
            await hosts.RecallAsync(store, stop);
            var today = TrialReader.DayOf(clock.GetCurrentInstant(), site);
            fetched = await client.FetchAsync(
                description, TrialReader.PlaceOf(draft, site), TrialReader.RequestOf(draft, today) with { Key = keys.Open(draft.SealedKey), UploadPath = path }, stop);
        }
        catch (FeedException refusal)
        {
            await hosts.KeepAsync(store, stop);
            return new TrialSeen(draft, site, description) { Refusal = TrialRefusal.Of(refusal), JustAsked = true };
        }

        await hosts.KeepAsync(store, stop);
        if (FeedAnswers.Pack(fetched.Body) is not { } packed)
            return new TrialSeen(draft, site, description) { Refusal = TrialRefusal.TooLong(fetched.Url), JustAsked = true };
        (draft.Body, draft.Asked, draft.MediaType, draft.FetchedAt) = (packed, fetched.Url, fetched.MediaType, fetched.FetchedAt);
        return await SaveAsync(draft, site, stop) with { JustAsked = true, TransferNotes = fetched.Notes };
    }

    private async Task TakeKeptAsync(FeedDraft draft, Site site, Feed feed, CancellationToken stop)
    {
        if (Parse(feed.Description) is { IsUpload: true } description)
        {
            var file = options.FeedFile(feed);
            if (!File.Exists(file))
                return;
            try
            {
                var kept = await client.FetchAsync(
                    description, TrialReader.PlaceOf(draft, site), new FeedRequest(TrialReader.DayOf(clock.GetCurrentInstant(), site)) { UploadPath = file }, stop);
                (draft.Body, draft.Asked, draft.MediaType, draft.FetchedAt) = (FeedAnswers.Pack(kept.Body), kept.Url, kept.MediaType, kept.FetchedAt);
            }
            catch (FeedException)
            {
                // The file can be handed in again.
            }

            return;
        }

        var place = reader.AddressOf(draft, site, feed.Description)?.PlaceUrl;
        var answer = place is null ? null : await FeedAnswers.ReadAsync(store, feed.Id, place, stop);
        if ((answer ?? await FeedAnswers.ReadAsync(store, feed.Id, null, stop)) is { } last)
            (draft.Body, draft.Asked, draft.MediaType, draft.FetchedAt) = (FeedAnswers.Pack(last.Body), last.Asked, last.MediaType, last.FetchedAt);
    }

    private FeedDraft Draft(Site site, FeedDescription description, TrialChange given) => new()
    {
        Id = Guid.NewGuid(),
        CooperativeId = site.CooperativeId,
        SiteId = site.Id,
        Station = given.Station,
        Title = given.Title ?? description.Title,
        Description = description.Json,
        MadeAt = clock.GetCurrentInstant(),
    };

    private async Task<TrialSeen> SaveAsync(FeedDraft draft, Site site, CancellationToken stop)
    {
        draft.MadeAt = clock.GetCurrentInstant();
        var seen = await LookAsync(draft, site, stop);
        draft.Good = seen.Good;
        await store.SaveChangesAsync(stop);
        return seen;
    }

    private async Task<Feed?> ChangedAsync(FeedDraft draft, CancellationToken stop) =>
        draft.FeedId is { } id ? await store.Feeds.AsNoTracking().SingleOrDefaultAsync(feed => feed.Id == id, stop) : null;

    private string? Seal(string? key) => string.IsNullOrWhiteSpace(key) ? null : keys.Seal(key.Trim());

    private static bool GoesElsewhere(string before, string now) => !DescriptionText.Hosts(now).IsSubsetOf(DescriptionText.Hosts(before));

    /// <summary>The name stands in messages; whatever else a browser sends in it does not.</summary>
    private static string PlainName(string? name)
    {
        var plain = new string([.. Path.GetFileName(name ?? "").Where(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_').Take(60)]).Trim('.');
        return plain.Length > 0 ? plain : "file";
    }

    /// <summary>One byte more than is taken, by which the reader sees that it is too long.</summary>
    private static async Task CopyAsync(Stream from, Stream to, int most, CancellationToken stop)
    {
        var buffer = new byte[81_920];
        for (var left = most + 1L; left > 0;)
        {
            var read = await from.ReadAsync(buffer.AsMemory(0, (int)Math.Min(buffer.Length, left)), stop);
            if (read == 0)
                return;
            await to.WriteAsync(buffer.AsMemory(0, read), stop);
            left -= read;
        }
    }
}

/// <summary>What is given with a description; null leaves it as it is.</summary>
/// <param name="Title">What the feed is to be called.</param>
/// <param name="Station">The station in the feed's own list.</param>
/// <param name="Key">The provider's key.</param>
internal sealed record TrialChange(string? Title = null, string? Station = null, string? Key = null)
{
    /// <inheritdoc/>
    public override string ToString() => Title ?? ""; // Not the key: a record is easily logged whole.
}
