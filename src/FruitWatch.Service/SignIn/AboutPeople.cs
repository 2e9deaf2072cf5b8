using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.SignIn;

/// <summary>The words that an attacker would try first with somebody (ASVS 5.0 6.1.2, 6.2.11): their names and addresses, and their cooperatives'.</summary>
internal static class AboutPeople
{
    public static async Task<IReadOnlyList<string?>> OfAsync(StoreFactory stores, Account account, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var people = await store.People.Where(row => row.AccountId == account.Id)
            .Join(store.Cooperatives, person => person.CooperativeId, cooperative => cooperative.Id, (person, cooperative) => new { person.Name, person.Email, Cooperative = cooperative.Name })
            .ToListAsync(stop);
        return [account.Email, .. people.SelectMany(row => new[] { row.Name, row.Email, row.Cooperative })];
    }
}
