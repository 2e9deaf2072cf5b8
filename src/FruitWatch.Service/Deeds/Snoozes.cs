using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Deeds;

/// <summary>What people have put off: they alone are not told of it again before the day that they chose.</summary>
internal static class Snoozes
{
    private static readonly string s_word = ApiJson.WordOf(Deed.Snooze);

    /// <summary>
    /// The local day on which each person wants to be told of a notice again, by person and notice; what was taken back is left out.
    /// Where it was put off more than once, what was said last stands first. One query.
    /// </summary>
    public static async Task<ILookup<(long PersonId, long NoticeId), (LocalDate Until, Instant At)>> OfAsync(
        FruitWatchStore store, IReadOnlyCollection<long> personIds, CancellationToken stop)
    {
        var people = personIds.ToArray();
        var rows = await store.MailDeeds.AsNoTracking()
            .Where(row => EF.Parameter(people).Contains(row.PersonId) && row.Deed == s_word && row.Until != null && row.UndoneAt == null)
            .OrderByDescending(row => row.At).ThenByDescending(row => row.Id)
            .Select(row => new { row.PersonId, row.NoticeId, row.Until, row.At }).ToListAsync(stop);
        return rows.ToLookup(row => (row.PersonId, row.NoticeId), row => (row.Until!.Value, row.At));
    }

    /// <summary>Puts a notice off for somebody, outside of any mail.</summary>
    public static MailDeed Make(Person person, long noticeId, LocalDate until, Instant now) => new()
    {
        CooperativeId = person.CooperativeId,
        PersonId = person.Id,
        NoticeId = noticeId,
        // No link stands behind it: drawn, so that it is nobody's.
        Nonce = Secrets.Hash(Secrets.Draw()),
        Deed = s_word,
        At = now,
        Until = until,
    };
}
