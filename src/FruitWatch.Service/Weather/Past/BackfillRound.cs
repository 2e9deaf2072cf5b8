using System.Collections.Concurrent;
using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using NodaTime;

namespace FruitWatch.Service.Weather.Past;

/// <summary>
/// Fetches past years a stretch at a time, the latest first. A stretch and the fact that it came are kept together; what was cut
/// short is asked for again, by this server or another one.
/// </summary>
internal sealed class BackfillRound(
    StoreFactory stores, Backfills backfills, FeedClient client, FeedAsking asking, HostMemory hosts, FeedKeys keys, ServiceOptions options,
    IClock clock, TimeProvider time, ILogger<BackfillRound> log)
{
    /// <summary>Longer than any request with its retries takes.</summary>
    private static readonly Duration s_lease = Duration.FromMinutes(12);

    private readonly HostPace pace = new(TimeSpan.FromMinutes(1), time);
    private readonly ConcurrentDictionary<long, int> mostDays = [];
    private int running;

    /// <summary>One stretch for every host that may be asked.</summary>
    /// <returns>How many backfills were due and had to wait for their host's turn.</returns>
    public async Task<int> RunAsync(CancellationToken stop)
    {
        if (Interlocked.Exchange(ref running, 1) == 1)
            return 0;
        try
        {
            await using var store = stores.CreateDbContext();
            await backfills.BeginAsync(store, stop);
            await hosts.RecallAsync(store, stop);
            var due = await store.DueBackfillsAsync(clock.GetCurrentInstant(), stop);
            var waiting = 0;
            foreach (var job in due)
                waiting += await WorkAsync(store, job.Backfill, job.Site, job.Feed, job.Told, stop) ? 0 : 1;
            await hosts.KeepAsync(store, stop);
            return waiting;
        }
        finally
        {
            Volatile.Write(ref running, 0);
        }
    }

    /// <summary>One stretch. False: its host has had one within the minute.</summary>
    private async Task<bool> WorkAsync(FruitWatchStore store, Backfill fill, Site site, Feed feed, SiteFeed? told, CancellationToken stop)
    {
        var from = Copy(fill);
        try
        {
            var at = FeedAtSite.Of(
                site, feed, told, clock.GetCurrentInstant(), options.LocalStationSet, keys.Open(feed.SealedKey), options.FeedFile(feed));
            if (!pace.TryTake(at.Description))
                return false;
            if (!await store.LeaseAsync(fill, clock.GetCurrentInstant(), s_lease, stop))
                return true;
            var stretch = BackfillStretch.Of(fill, at.Reach, mostDays.GetValueOrDefault(feed.Id, FeedReach.MostDays));
            fill.Requests++;
            var (answer, trouble) = await FetchAsync(store, at, stretch, stop);
            await using var transaction = await store.Database.BeginTransactionAsync(stop);
            if (answer is null)
                Refuse(fill, at, stretch, trouble!);
            else
                Take(fill, stretch, await MergeAsync(store, at, stretch, answer, stop), clock.GetCurrentInstant());
            await store.AdvanceAsync(from, fill, stop);
            await transaction.CommitAsync(stop);
            log.LogInformation(
                "Past days of site {Site} from feed {Feed}, {First} to {Last}: {Outcome}",
                site.Id, feed.Key, stretch.First, stretch.Last, trouble?.Code ?? "good");
        }
        catch (FeedDescriptionException refusal)
        {
            (fill.State, fill.Problem) = (BackfillState.Stuck, refusal.Message);
            await store.AdvanceAsync(from, fill, stop);
        }

        return true;
    }

    private async Task<(FeedAnswered? Answer, FeedTrouble? Trouble)> FetchAsync(
        FruitWatchStore store, FeedAtSite at, BackfillStretch stretch, CancellationToken stop)
    {
        // One file for all years: the answer that is kept already holds them.
        if (at.Reach.WholeFile)
            return await asking.AskAsync(store, at, stretch.First, now: false, null, stop);
        try
        {
            var fetched = await client.FetchAsync(at.Description, at.Place, at.Request(stretch.First, stretch.Last), stop);
            var reading = FeedReader.Read(at.Description, fetched.Body, at.Place, at.Today, fetched.FetchedAt, stretch.First);
            return (new FeedAnswered(reading, fetched.FetchedAt, fetched.FetchedAt, null, []), null);
        }
        catch (FeedException refusal)
        {
            return (null, FeedTrouble.Of(refusal));
        }
    }

    private static async Task<int> MergeAsync(
        FruitWatchStore store, FeedAtSite at, BackfillStretch stretch, FeedAnswered answer, CancellationToken stop)
    {
        var days = answer.Reading.ToWeather().Where(day => day.Date >= stretch.First && day.Date <= stretch.Last).ToList();
        if (days.Count > 0)
            await store.MergeWeatherAsync(at.Site.Id, at.Feed.Id, days, answer.FetchedAt, answer.FetchedAt, stop);
        return days.Count;
    }

    private static void Take(Backfill fill, BackfillStretch stretch, int days, Instant now)
    {
        fill.DaysKept += days;
        fill.Next = stretch.First.PlusDays(-1);
        (fill.FailuresInARow, fill.Problem) = (0, null);
        (fill.ProgressAt, fill.NextTryAt) = (now, now);
        if (fill.Next < fill.First || days == 0)
            End(fill, days == 0 ? stretch : null);
    }

    private void Refuse(Backfill fill, FeedAtSite at, BackfillStretch stretch, FeedTrouble trouble)
    {
        var now = clock.GetCurrentInstant();
        if (trouble.Code is FeedCodes.DataEmpty or FeedCodes.NotFound)
        {
            // The feed has given good days of late, so the address is right: the archive begins later.
            fill.ProgressAt = now;
            End(fill, stretch);
            return;
        }

        fill.FailuresInARow++;
        fill.Problem = trouble.Words;
        fill.NextTryAt = FeedTimes.AfterFailure(now, fill.FailuresInARow, trouble.Pause, permanent: false, at.Seed);
        if (trouble.Code is FeedCodes.TooLarge or FeedCodes.TooSlow && !at.Reach.WholeFile && stretch.Days > BackfillStretch.FewestDays)
        {
            mostDays[at.Feed.Id] = Math.Max(BackfillStretch.FewestDays, stretch.Days / 2);
            fill.NextTryAt = now;
        }
        else if (trouble.Permanent)
        {
            fill.State = BackfillState.Stuck;
        }
    }

    private static void End(Backfill fill, BackfillStretch? nothingFrom)
    {
        fill.State = BackfillState.Done;
        fill.Problem = nothingFrom is { } empty
            ? FormattableString.Invariant($"The feed has nothing of {empty.First:uuuu-MM-dd} to {empty.Last:uuuu-MM-dd} or before.")
            : null;
        fill.Next = fill.First.PlusDays(-1);
    }

    private static Backfill Copy(Backfill fill) => new()
    {
        SiteId = fill.SiteId,
        FeedId = fill.FeedId,
        Next = fill.Next,
        StartedAt = fill.StartedAt,
    };
}
