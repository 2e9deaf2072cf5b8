using System.Data.Common;
using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>What a pull of a site's feeds brought.</summary>
/// <param name="State">
/// <c>ok</c>, <c>partly</c> or <c>down</c>; <c>asked</c> where nothing is wrong but that answers are held until somebody says whether
/// their units are right; <c>none</c> where the site has no feed.
/// </param>
/// <param name="Note">What was wrong, feed by feed, in words.</param>
internal sealed record PulledWeather(string State, string Note);

/// <summary>Why feeds are pulled.</summary>
internal enum PullFor
{
    /// <summary>The morning round: every feed whose answer is not fresh, though not one that waits for somebody more than once a day.</summary>
    Morning,

    /// <summary>The day: those that are due.</summary>
    Due,

    /// <summary>The morning is about to come: those that answer, so that the round itself need not ask on the hour.</summary>
    Ahead,

    /// <summary>Somebody asked for it: at once, though never against a host's wish.</summary>
    Now,
}

/// <summary>
/// Asks a site's feeds and keeps what they say, with source and issue time. A feed that is down or whose answer is refused
/// leaves all that was kept as it was; how it stands is noted for the site.
/// </summary>
internal sealed class WeatherPull(
    FeedAsking asking, HostMemory hosts, FeedKeys keys, ServiceOptions options, IClock clock, ILogger<WeatherPull> log)
{
    /// <summary>Days before the oldest bed that a first pull asks for: they warm up the soil.</summary>
    private const int DaysBefore = 60;

    /// <summary>The World Meteorological Organization's climate normals rest on thirty years; older days say little of today's climate.</summary>
    public const int YearsBack = 30;

    /// <summary>Known days that are asked for again: services mend their last days.</summary>
    private const int DaysAgain = 10;

    private static readonly Duration s_almostADay = Duration.FromHours(20);
    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web);

    /// <summary>The morning's pull.</summary>
    public Task<PulledWeather> PullAsync(FruitWatchStore store, long siteId, CancellationToken stop) =>
        PullAsync(store, siteId, PullFor.Morning, null, null, stop);

    /// <summary>Pulls the feeds of a site.</summary>
    /// <param name="store">Where to.</param>
    /// <param name="siteId">The site.</param>
    /// <param name="why">Which of them.</param>
    /// <param name="only">This feed only; all where left out.</param>
    /// <param name="beforeAsking">Runs before each request, with the feed's description; for those who are in no hurry.</param>
    /// <param name="stop">Stops it.</param>
    public async Task<PulledWeather> PullAsync(
        FruitWatchStore store, long siteId, PullFor why, long? only, Func<FeedDescription, Task>? beforeAsking, CancellationToken stop)
    {
        var site = await store.Sites.AsNoTracking().SingleAsync(s => s.Id == siteId, stop);
        var slots = FilledSlot.Feeds(site).Where(slot => only is null || slot.FeedId == only).ToList();
        if (slots.Count == 0)
            return new PulledWeather("none", "");
        var ids = slots.Select(slot => slot.FeedId).ToArray();
        var feeds = await store.Feeds.AsNoTracking().Where(f => EF.Parameter(ids).Contains(f.Id)).ToDictionaryAsync(f => f.Id, stop);
        var told = await store.SiteFeeds.AsNoTracking().Where(row => row.SiteId == siteId).ToDictionaryAsync(row => row.FeedId, stop);

        await hosts.RecallAsync(store, stop);
        var problems = new List<(string Words, bool Held)>();
        foreach (var feed in slots.Select(slot => feeds[slot.FeedId]))
        {
            var row = told.GetValueOrDefault(feed.Id);
            if (!IsWanted(row, feed, why, clock.GetCurrentInstant()))
            {
                if (row?.Problem is { } known)
                    problems.Add(($"{feed.Title}: {known}", row.Question is not null));
                continue;
            }

            var now = await TryAsync(store, site, feed, row, why, beforeAsking, stop);
            if (now.Problem is { } problem)
                problems.Add(($"{feed.Title}: {problem}", now.Question is not null));
        }

        await hosts.KeepAsync(store, stop);
        var state = problems.Count == 0 ? "ok"
            : problems.TrueForAll(problem => problem.Held) ? "asked"
            : problems.Count < slots.Count ? "partly" : "down";
        return new PulledWeather(state, string.Join("\n", problems.Select(problem => problem.Words)));
    }

    /// <summary>Whether a feed is due for a site by the day.</summary>
    public static bool IsDue(Instant? nextTryAt, int? triedVersion, int version, Instant now) =>
        nextTryAt is null || nextTryAt <= now || triedVersion != version;

    private static bool IsWanted(SiteFeed? row, Feed feed, PullFor why, Instant now) => why switch
    {
        PullFor.Now => true,
        PullFor.Ahead => row is { ProblemCode: null, LastTriedAt: { } last } && now - last > DueFeeds.Ahead,
        PullFor.Due => IsDue(row?.NextTryAt, row?.TriedVersion, feed.Version, now),
        _ => row is not { Waiting: true } || row.TriedVersion != feed.Version || row.LastTriedAt is not { } before || now - before >= s_almostADay,
    };

    private async Task<SiteFeed> TryAsync(
        FruitWatchStore store, Site site, Feed feed, SiteFeed? told, PullFor why, Func<FeedDescription, Task>? beforeAsking, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var row = told ?? new SiteFeed { SiteId = site.Id, FeedId = feed.Id, FirstTriedAt = now };
        row.TriedVersion = feed.Version;
        var trouble = default(FeedTrouble);
        try
        {
            var at = FeedAtSite.Of(site, feed, told, now, options.LocalStationSet, keys.Open(feed.SealedKey), options.FeedFile(feed));
            var from = await FromAsync(store, at, stop);
            (var answer, trouble) = await asking.AskAsync(
                store, at, from, why == PullFor.Now, beforeAsking is null ? null : () => beforeAsking(at.Description), stop);
            if (answer is not null)
            {
                await TakeAsync(store, at, row, answer, from, stop);
                return row;
            }
        }
        catch (FeedDescriptionException refusal)
        {
            trouble = FeedTrouble.Of(refusal);
        }
        catch (Exception fault) when (fault is not (OperationCanceledException or DbException or DbUpdateException))
        {
            // One feed's answer must not end the mornings of a site.
            log.LogError(fault, "Feed {Feed} of site {Site} met a fault of the service", feed.Key, site.Id);
            trouble = FeedTrouble.Fault();
        }

        log.LogWarning("Feed {Feed} of site {Site}: {Problem}", feed.Key, site.Id, trouble!.Words);
        Refuse(row, trouble, clock.GetCurrentInstant());
        await store.KeepToldAsync(row, stop);
        return row;
    }

    /// <summary>A good answer: kept together with the fact that it came, or held back if its units are in doubt.</summary>
    private async Task TakeAsync(
        FruitWatchStore store, FeedAtSite at, SiteFeed row, FeedAnswered answer, LocalDate from, CancellationToken stop)
    {
        row.LastTriedAt = answer.CheckedAt;
        row.NextTryAt = FeedTimes.AfterGood(answer.CheckedAt, answer.Expires, at.Description.Refresh, options.LeastBetweenRequests, at.Seed);
        row.Captures = FeedAtSite.Write(answer.Captures);
        row.Evidence = null;
        row.Waiting = false;
        var question = row.UnitsConfirmed == at.Feed.Version ? null : await UnitDoubts.AboutAsync(store, at, answer.Reading, stop);
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        if (question is null)
        {
            var (last, _) = await FeedKeeping.KeepAsync(store, at, answer, from, stop);
            (row.ProblemCode, row.Problem, row.Question) = (null, null, null);
            row.FailuresInARow = 0;
            row.LastGoodAt = answer.CheckedAt;
            row.LastDay = last;
            row.Notes = answer.Notes.Count > 0 ? JsonSerializer.Serialize(answer.Notes, s_json) : null;
        }
        else
        {
            log.LogWarning("Feed {Feed} of site {Site} is held: {Question}", at.Feed.Key, at.Site.Id, question.Text);
            (row.ProblemCode, row.Problem) = (FeedCodes.SuspectUnits, question.Text);
            row.Question = JsonSerializer.Serialize(question, s_json);
            row.FailuresInARow++;
        }

        await store.KeepToldAsync(row, stop);
        await transaction.CommitAsync(stop);
    }

    private static void Refuse(SiteFeed row, FeedTrouble trouble, Instant now)
    {
        row.LastTriedAt = now;
        row.FailuresInARow++;
        (row.ProblemCode, row.Problem, row.Evidence, row.Waiting) = (trouble.Code, trouble.Words, trouble.Evidence, trouble.Permanent);
        row.Question = null;
        row.NextTryAt = FeedTimes.AfterFailure(now, row.FailuresInARow, trouble.Pause, trouble.Permanent, row.SiteId * 1_000_003 + row.FeedId);
    }

    private static async Task<LocalDate> FromAsync(FruitWatchStore store, FeedAtSite at, CancellationToken stop)
    {
        var (siteId, feedId, today) = (at.Site.Id, at.Feed.Id, at.Today);
        var known = await store.Weather.Where(w => w.SiteId == siteId && w.FeedId == feedId).MaxAsync(w => (LocalDate?)w.Date, stop);
        // A file costs nothing to read: all the years that it has make the outlook longer and surer.
        if (at.Description.IsUpload)
            return known?.PlusDays(-DaysAgain) ?? today.PlusYears(-YearsBack);
        var wanted = known?.PlusDays(-DaysAgain)
            ?? (await store.Beds.Where(b => b.SiteId == siteId && b.RetiredOn == null).MinAsync(b => (LocalDate?)b.InoculatedOn, stop) ?? today)
                .PlusDays(-DaysBefore);
        return at.Reach.First(wanted, today);
    }
}
