using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Feeds;

/// <summary>Throws away the drafts that nobody saved within a day.</summary>
internal sealed class FeedDrafts(StoreFactory stores, IClock clock)
{
    public async Task<int> ClearAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var before = clock.GetCurrentInstant() - FeedTrials.Lifetime;
        return await store.FeedDrafts.Where(draft => draft.MadeAt < before).ExecuteDeleteAsync(stop);
    }
}
