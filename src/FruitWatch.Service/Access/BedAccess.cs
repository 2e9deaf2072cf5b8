using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Access;

/// <summary>
/// What the visitor may do at one bed that they can see: a grower reads the beds of others where the coordinator allows, and changes
/// only their own. Beds that they cannot see are not found in the first place.
/// </summary>
internal sealed class BedAccess(Visitor visitor, FruitWatchStore store)
{
    /// <summary>Whether they may write its log, or change it.</summary>
    public async Task<bool> MayAsync(Right right, long bedId, CancellationToken stop) =>
        visitor.May(right)
        && (visitor.Person?.Role != Role.Grower
            || await store.BedGrowers.AnyAsync(own => own.BedId == bedId && own.PersonId == visitor.Person.Id, stop));

    /// <summary>At which beds they may, where many are looked at.</summary>
    public async Task<Func<long, bool>> OfAsync(Right right, CancellationToken stop)
    {
        if (!visitor.May(right))
            return _ => false;
        if (visitor.Person is not { Role: Role.Grower } grower)
            return _ => true;
        var own = await store.BedGrowers.Where(row => row.PersonId == grower.Id).Select(row => row.BedId).ToListAsync(stop);
        return own.ToHashSet().Contains;
    }
}
