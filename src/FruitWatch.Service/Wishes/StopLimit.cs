using System.Globalization;
using System.Text.Json;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Wishes;

/// <summary>
/// The most that somebody's unsubscribe links can choose: what holds, or what held before such links changed it. Whoever has the mail can
/// leave its reader alone, and take that back; but not have them woken at night.
/// </summary>
/// <param name="Digests">The morning mail.</param>
/// <param name="Urgent">What cannot wait.</param>
/// <param name="Kinds">Kinds of notices that are not left out.</param>
internal sealed record StopLimit(DigestWish Digests, UrgentWish Urgent, IReadOnlySet<NoticeKind> Kinds)
{
    /// <summary>So many changes back are looked at.</summary>
    private const int Furthest = 50;

    /// <summary>As it stands with somebody; what was before is known from the audit, for as long as that is kept.</summary>
    public static async Task<StopLimit> OfAsync(FruitWatchStore store, Person person, CancellationToken stop)
    {
        var key = person.Id.ToString(CultureInfo.InvariantCulture);
        var changes = await store.Audit.AsNoTracking()
            .Where(entry => entry.CooperativeId == person.CooperativeId && entry.Action == "person.changed" && entry.SubjectId == key
                && (entry.Detail!.Contains("\"digests\"") || entry.Detail.Contains("\"urgent\"")))
            .OrderByDescending(entry => entry.Id).Take(Furthest).Select(entry => new { entry.Via, entry.Detail }).ToListAsync(stop);
        var told = changes.ConvertAll(change => (ByLink: change.Via == Deeds.DeedBook.Via, Fields: JsonSerializer.Deserialize<Dictionary<string, string?[]?>>(change.Detail!)!));
        return new StopLimit(
            Before("digests", person.Digests), Before("urgent", person.Urgent), Enum.GetValues<NoticeKind>().Except(PersonWishes.LeftOut(person)).ToHashSet());

        T Before<T>(string field, T now)
            where T : struct, Enum =>
            told.Where(change => change.Fields.ContainsKey(field)).TakeWhile(change => change.ByLink)
                .Select(change => WordIn<T>(change.Fields[field]?[0])).LastOrDefault() ?? now;
    }

    /// <summary>Whether it is no more than that.</summary>
    public bool Allows(DigestWish wish) => wish >= Digests;

    /// <summary>Whether it is no more than that.</summary>
    public bool Allows(UrgentWish wish) => Reach(wish) <= Reach(Urgent);

    private static int Reach(UrgentWish wish) => wish switch
    {
        UrgentWish.AtAnyHour => 2,
        UrgentWish.InWakingHours => 1,
        _ => 0,
    };

    private static T? WordIn<T>(string? word)
        where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
        {
            if (ApiJson.WordOf(value) == word)
                return value;
        }

        return null;
    }
}
