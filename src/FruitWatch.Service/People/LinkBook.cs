using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.People;

/// <summary>Makes and takes back the links that farm hands work from.</summary>
internal sealed class LinkBook(FruitWatchStore store, ServiceOptions options, IClock clock)
{
    public const int UsualDays = 90;
    public const int MostDays = 365;
    public const int LongestName = 80;

    /// <summary>Links of a person, the last made first.</summary>
    public Task<List<PersonalLink>> OfAsync(long personId, CancellationToken stop) =>
        store.PersonalLinks.AsNoTracking().Where(row => row.PersonId == personId).OrderByDescending(row => row.Id).ToListAsync(stop);

    /// <summary>Whether a link opens at present.</summary>
    public bool Opens(PersonalLink link) => link.RevokedAt is null && link.ExpiresAt > clock.GetCurrentInstant();

    /// <summary>Makes a link. Its address is known here and now only.</summary>
    /// <exception cref="MemberRefusedException">They are no farm hand, or not let in.</exception>
    public async Task<(PersonalLink Link, string Address)> MakeAsync(Person person, string name, int days, CancellationToken stop)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(days, MostDays);
        if (person.Role != Role.FarmHand)
            throw new MemberRefusedException(MemberRefusal.NoFarmHand);
        if (!person.Active)
            throw new MemberRefusedException(MemberRefusal.NotActive);
        var secret = Secrets.Draw();
        var now = clock.GetCurrentInstant();
        var link = new PersonalLink
        {
            CooperativeId = person.CooperativeId,
            PersonId = person.Id,
            Name = name,
            Hash = Secrets.Hash(secret),
            MadeAt = now,
            ExpiresAt = now + Duration.FromDays(days),
        };
        store.PersonalLinks.Add(link);
        await store.SaveChangesAsync(stop);
        return (link, $"{options.BaseUrl.AbsoluteUri.TrimEnd('/')}/with/{secret}");
    }

    /// <summary>Takes a link back; once taken back, it stays as it was.</summary>
    /// <returns>False where the person has no such link.</returns>
    public async Task<bool> RevokeAsync(long personId, long linkId, CancellationToken stop)
    {
        if (await store.PersonalLinks.SingleOrDefaultAsync(row => row.Id == linkId && row.PersonId == personId, stop) is not { } link)
            return false;
        link.RevokedAt ??= clock.GetCurrentInstant();
        await store.SaveChangesAsync(stop);
        return true;
    }
}
