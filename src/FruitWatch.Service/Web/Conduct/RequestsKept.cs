using FruitWatch.Store;
using FruitWatch.Store.Queries;
using NodaTime;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>Throws away the answers that are kept for requests sent again, once their time is over.</summary>
internal sealed class RequestsKept(StoreFactory stores, IClock clock)
{
    public async Task ClearAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        await store.ForgetRequestsAsync(clock.GetCurrentInstant() - Idempotency.Kept, stop);
    }
}
