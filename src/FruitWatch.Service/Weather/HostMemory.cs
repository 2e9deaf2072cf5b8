using System.Collections.Concurrent;
using FruitWatch.Feeds;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>Keeps the pauses that hosts ask for over restarts, and shares them between servers.</summary>
internal sealed class HostMemory(FeedClient client)
{
    private readonly ConcurrentDictionary<string, Instant> kept = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Before asking: what earlier runs and other servers were told.</summary>
    public async Task RecallAsync(FruitWatchStore store, CancellationToken stop)
    {
        var rows = await store.FeedHosts.AsNoTracking().ToListAsync(stop);
        client.Remember(rows.Select(row => new FeedHostState(
            row.Authority, row.PausedUntil, row.RefusalsInARow, row.FailuresInARow, row.RestsUntil, row.ChangedAt)));
        foreach (var row in rows)
            kept.AddOrUpdate(row.Authority, row.ChangedAt, (_, known) => Instant.Max(known, row.ChangedAt));
    }

    /// <summary>After asking: what has changed.</summary>
    public async Task KeepAsync(FruitWatchStore store, CancellationToken stop)
    {
        var changed = client.HostStates().Where(state => !kept.TryGetValue(state.Authority, out var known) || state.ChangedAt > known).ToList();
        if (changed.Count == 0)
            return;
        await store.KeepHostsAsync([.. changed.Select(Row)], stop);
        foreach (var state in changed)
            kept[state.Authority] = state.ChangedAt;
    }

    private static FeedHost Row(FeedHostState state) => new()
    {
        Authority = state.Authority,
        PausedUntil = state.PausedUntil,
        RefusalsInARow = state.RefusalsInARow,
        FailuresInARow = state.FailuresInARow,
        RestsUntil = state.RestsUntil,
        ChangedAt = state.ChangedAt,
    };
}
