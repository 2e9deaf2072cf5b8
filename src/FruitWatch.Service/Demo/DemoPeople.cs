using FruitWatch.Service.People;
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

    /// <summary>Their keys, by the addresses that they were invented with.</summary>
    public static Task<Dictionary<string, long>> KeysAsync(FruitWatchStore store, CancellationToken stop) =>
        store.People.AsNoTracking().Where(person => person.EmailNormalized != "").ToDictionaryAsync(person => person.EmailNormalized, person => person.Id, stop);

    /// <summary>Puts the key of whoever did it in the place of their address. Somebody whom a visitor has removed did it nameless.</summary>
    public static void Sign(LogEntry entry, IReadOnlyDictionary<string, long> keys) =>
        entry.RecordedBy = entry.RecordedBy is { } address && keys.TryGetValue(address, out var key) ? Recorders.Of(key) : null;
}
