using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Queries;

/// <summary>What is kept of asking feeds. Two servers may keep the same at the same time: the later one stands, and none fails.</summary>
public static class FeedsKept
{
    private static readonly string s_answer = OnConflict(
        ["FeedId", "Place"], "Asked", "MediaType", "Body", "Length", "FetchedAt", "CheckedAt", "Expires", "Etag", "LastModified", "Notes")
        + """ WHERE excluded."CheckedAt" >= "FeedAnswers"."CheckedAt" """;

    private static readonly string s_host = OnConflict(
        ["Authority"], "PausedUntil", "RefusalsInARow", "FailuresInARow", "RestsUntil", "ChangedAt")
        + """ WHERE excluded."ChangedAt" > "FeedHosts"."ChangedAt" """;

    // What a person or another job says of the feed stays: its first try, its confirmed units, and that its silence was told while it lasts.
    private static readonly string s_told = OnConflict(
        ["SiteId", "FeedId"],
        "LastGoodAt", "LastTriedAt", "NextTryAt", "ProblemCode", "Problem", "Evidence", "Waiting", "FailuresInARow", "LastDay", "Notes",
        "Question", "TriedVersion", "Captures")
        + """
        , "SilenceToldAt" = CASE WHEN excluded."ProblemCode" IS NULL THEN NULL ELSE "SiteFeeds"."SilenceToldAt" END
        """;

    /// <summary>Keeps an answer in place of the last one of its feed and place, unless that one is later.</summary>
    public static Task KeepAnswerAsync(this FruitWatchStore store, FeedAnswer answer, CancellationToken cancellationToken = default) =>
        PutAsync(store, [answer], s_answer, cancellationToken);

    /// <summary>Keeps what is known of hosts; of two accounts of one host the later counts.</summary>
    public static Task KeepHostsAsync(
        this FruitWatchStore store, IReadOnlyList<FeedHost> hosts, CancellationToken cancellationToken = default) =>
        PutAsync(store, hosts, s_host, cancellationToken);

    /// <summary>Keeps how a feed answered a site just now.</summary>
    public static Task KeepToldAsync(this FruitWatchStore store, SiteFeed told, CancellationToken cancellationToken = default) =>
        PutAsync(store, [told], s_told, cancellationToken);

    /// <summary>Whether a feed that has a problem has given nothing good since then, and nobody was told.</summary>
    public static Task<bool> AnySilentAsync(this FruitWatchStore store, Instant since, CancellationToken cancellationToken = default) =>
        store.SiteFeeds.AnyAsync(
            row => row.SilenceToldAt == null && row.ProblemCode != null && (row.LastGoodAt ?? row.FirstTriedAt) <= since, cancellationToken);

    /// <summary>Backfills that may go on and that no server works at, the longest waiting first. Nothing is tracked.</summary>
    public static async Task<IReadOnlyList<DueBackfill>> DueBackfillsAsync(
        this FruitWatchStore store, Instant now, CancellationToken cancellationToken = default)
    {
        var due = await (
            from fill in store.Backfills.AsNoTracking()
            join site in store.Sites.AsNoTracking() on fill.SiteId equals site.Id
            join feed in store.Feeds.AsNoTracking() on fill.FeedId equals feed.Id
            join told in store.SiteFeeds.AsNoTracking() on new { fill.SiteId, fill.FeedId } equals new { told.SiteId, told.FeedId } into known
            from told in known.DefaultIfEmpty()
            where fill.State == BackfillState.Running && fill.NextTryAt <= now && (fill.LeaseUntil == null || fill.LeaseUntil <= now)
            orderby fill.NextTryAt, fill.SiteId, fill.FeedId
            select new { fill, site, feed, told }).ToListAsync(cancellationToken);
        return [.. due.Select(one => new DueBackfill(one.fill, one.site, one.feed, one.told))];
    }

    /// <summary>Asks for past years, unless they are being fetched already. False: they are.</summary>
    public static async Task<bool> AddIfNewAsync(this FruitWatchStore store, Backfill backfill, CancellationToken cancellationToken = default)
    {
        var insert = InsertText.For(store, [backfill]);
        var sql = insert.Sql + " ON CONFLICT (\"SiteId\", \"FeedId\") DO NOTHING";
        return await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, cancellationToken) == 1;
    }

    /// <summary>Takes a backfill that is due for a time, so that no other server works at it. False: another one does, or it is not due.</summary>
    public static async Task<bool> LeaseAsync(
        this FruitWatchStore store, Backfill backfill, Instant now, Duration lease, CancellationToken cancellationToken = default)
    {
        Instant? until = now + lease;
        return await One(store, backfill)
            .Where(row => row.State == BackfillState.Running && row.NextTryAt <= now && (row.LeaseUntil == null || row.LeaseUntil <= now))
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.LeaseUntil, until), cancellationToken) == 1;
    }

    /// <summary>
    /// Notes what a stretch brought, where the backfill still stands at the stretch that was asked for. One that was halted or begun
    /// anew meanwhile keeps its state.
    /// </summary>
    /// <param name="store">Where to.</param>
    /// <param name="from">As it stood when the stretch began.</param>
    /// <param name="to">As it stands now.</param>
    /// <param name="cancellationToken">Stops it.</param>
    public static async Task<bool> AdvanceAsync(
        this FruitWatchStore store, Backfill from, Backfill to, CancellationToken cancellationToken = default) =>
        await One(store, from).Where(row => row.Next == from.Next && row.StartedAt == from.StartedAt)
            .ExecuteUpdateAsync(
                set => set.SetProperty(row => row.Next, to.Next)
                    .SetProperty(row => row.DaysKept, to.DaysKept)
                    .SetProperty(row => row.Requests, to.Requests)
                    .SetProperty(row => row.State, row => row.State == BackfillState.Halted ? BackfillState.Halted : to.State)
                    .SetProperty(row => row.Problem, to.Problem)
                    .SetProperty(row => row.FailuresInARow, to.FailuresInARow)
                    .SetProperty(row => row.NextTryAt, to.NextTryAt)
                    .SetProperty(row => row.ProgressAt, to.ProgressAt)
                    .SetProperty(row => row.LeaseUntil, (Instant?)null),
                cancellationToken) == 1;

    private static IQueryable<Backfill> One(FruitWatchStore store, Backfill backfill)
    {
        var (site, feed) = (backfill.SiteId, backfill.FeedId);
        return store.Backfills.Where(row => row.SiteId == site && row.FeedId == feed);
    }

    private static async Task PutAsync<T>(FruitWatchStore store, IReadOnlyList<T> rows, string onConflict, CancellationToken stop)
        where T : class
    {
        // In parts: a statement has a limit on its parameters.
        foreach (var part in rows.Chunk(InsertText.RowsAtOnce))
        {
            var insert = InsertText.For(store, part);
            var sql = insert.Sql + onConflict;
            await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, stop);
        }
    }

    private static string OnConflict(string[] key, params string[] columns) =>
        $" ON CONFLICT ({string.Join(", ", key.Select(column => $"\"{column}\""))}) DO UPDATE SET "
        + string.Join(", ", columns.Select(column => $"\"{column}\" = excluded.\"{column}\""));
}

/// <summary>A backfill that is due, with what is needed to go on.</summary>
/// <param name="Backfill">The backfill.</param>
/// <param name="Site">Its site.</param>
/// <param name="Feed">Its feed.</param>
/// <param name="Told">How the feed has been answering there; null where it was never asked.</param>
public sealed record DueBackfill(Backfill Backfill, Site Site, Feed Feed, SiteFeed? Told);
