using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Cooperatives;

/// <summary>Why a person cannot be removed, or cannot become something else.</summary>
internal enum PersonRefusal
{
    /// <summary>Nobody would be left to answer for the cooperative.</summary>
    LastCoordinator,
}

/// <summary>
/// Removes a person truly: the row, own tokens, links and invitations, the account where it opens nothing else, names and addresses
/// and bodies of mails. Log entries stay, without who made them; the audit keeps the key.
/// </summary>
internal sealed class PersonRemoval(FruitWatchStore store, ServiceOptions options, IClock clock)
{
    /// <summary>Whether nobody else who is active is a coordinator. To be asked before a coordinator is removed, made inactive or given another role.</summary>
    public async Task<bool> IsLastCoordinatorAsync(Person person, CancellationToken stop) =>
        person is { Role: Role.Coordinator, Active: true }
        && !await store.People.AnyAsync(
            other => other.Id != person.Id && other.CooperativeId == person.CooperativeId && other.Active && other.Role == Role.Coordinator, stop);

    /// <summary>Removes the person.</summary>
    /// <returns>Why not; null where it is done.</returns>
    public Task<PersonRefusal?> RemoveAsync(Person person, CancellationToken stop)
    {
        _ = (options, clock, person, stop);
        throw new NotImplementedException();
    }
}
