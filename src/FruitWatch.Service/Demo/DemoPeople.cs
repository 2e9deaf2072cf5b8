using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Demo;

/// <summary>The invented people, for the bar above the demo's pages. Registered by the demo only: it tells everybody who they are.</summary>
internal sealed class DemoPeople(StoreFactory stores)
{
    public async Task<IReadOnlyList<Person>> AllAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        return await store.People.AsNoTracking().Where(person => person.Active).OrderBy(person => person.Id).ToListAsync(stop);
    }
}
