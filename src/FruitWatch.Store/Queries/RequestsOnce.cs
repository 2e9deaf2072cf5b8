using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Queries;

/// <summary>Requests that are done once, whoever of several senders comes first.</summary>
public static class RequestsOnce
{
    /// <summary>Notes that a request is being done. False: its caller has used its key before.</summary>
    public static async Task<bool> AddIfNewAsync(this FruitWatchStore store, IdempotentRequest request, CancellationToken cancellationToken = default)
    {
        var insert = InsertText.For(store, [request]);
        var sql = insert.Sql + " ON CONFLICT (\"Caller\", \"Key\") DO NOTHING";
        return await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, cancellationToken) == 1;
    }

    /// <summary>Takes over a request that somebody began and did not end. False: somebody else was quicker, or it has ended.</summary>
    public static async Task<bool> TakeOverAsync(
        this FruitWatchStore store, IdempotentRequest abandoned, Instant now, CancellationToken cancellationToken = default) =>
        await Mine(store, abandoned, abandoned.StartedAt)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.StartedAt, now), cancellationToken) == 1;

    /// <summary>Keeps what was answered. False: it was taken over meanwhile, and must not have been done.</summary>
    public static async Task<bool> KeepAnswerAsync(
        this FruitWatchStore store, IdempotentRequest request, int status, string headers, string body, CancellationToken cancellationToken = default) =>
        await Mine(store, request, request.StartedAt).ExecuteUpdateAsync(
            set => set.SetProperty(row => row.Status, status).SetProperty(row => row.Headers, headers).SetProperty(row => row.Body, body),
            cancellationToken) == 1;

    /// <summary>Forgets a request that came to nothing: its key is free again. False: it was taken over meanwhile.</summary>
    public static async Task<bool> ForgetAsync(this FruitWatchStore store, IdempotentRequest request, CancellationToken cancellationToken = default) =>
        await Mine(store, request, request.StartedAt).ExecuteDeleteAsync(cancellationToken) == 1;

    /// <summary>Frees the key of a request where it was last used longer ago than answers are kept.</summary>
    public static Task<int> ForgetRequestsAsync(
        this FruitWatchStore store, IdempotentRequest request, Duration kept, CancellationToken cancellationToken = default)
    {
        var before = request.StartedAt - kept;
        return store.IdempotentRequests.Where(row => row.Caller == request.Caller && row.Key == request.Key && row.StartedAt < before)
            .ExecuteDeleteAsync(cancellationToken);
    }

    /// <summary>Deletes what is older than a moment.</summary>
    public static Task<int> ForgetRequestsAsync(this FruitWatchStore store, Instant before, CancellationToken cancellationToken = default) =>
        store.IdempotentRequests.Where(row => row.StartedAt < before).ExecuteDeleteAsync(cancellationToken);

    private static IQueryable<IdempotentRequest> Mine(FruitWatchStore store, IdempotentRequest request, Instant startedAt) =>
        store.IdempotentRequests.Where(row =>
            row.Caller == request.Caller && row.Key == request.Key && row.Status == null && row.StartedAt == startedAt);
}
