using FruitWatch.Service.Deeds;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>What mails that went out, or may have, told people of, and what people put off: from it follows what is to be told next.</summary>
internal sealed class WhatWasTold
{
    private readonly ILookup<(long PersonId, long NoticeId), (DigestRole Role, int Revision, Instant At, string Key)> told;
    private readonly ILookup<(long PersonId, long NoticeId), int> refused;
    private readonly ILookup<(long PersonId, long NoticeId), (LocalDate Until, Instant At)> putOff;

    private WhatWasTold(
        ILookup<(long PersonId, long NoticeId), (DigestRole Role, int Revision, Instant At, string Key)> told,
        ILookup<(long PersonId, long NoticeId), int> refused,
        ILookup<(long PersonId, long NoticeId), (LocalDate Until, Instant At)> putOff)
    {
        this.told = told;
        this.refused = refused;
        this.putOff = putOff;
    }

    /// <summary>Of some people and notices. Two queries, however many there are.</summary>
    public static async Task<WhatWasTold> ReadAsync(
        FruitWatchStore store, IReadOnlyCollection<long> personIds, IReadOnlyCollection<long> noticeIds, CancellationToken stop)
    {
        var (people, notices) = (personIds.ToArray(), noticeIds.ToArray());
        var told = await (
            from item in store.DigestNotices.AsNoTracking()
            join mail in store.Outbox on item.MailId equals mail.Id
            where EF.Parameter(notices).Contains(item.NoticeId) && mail.PersonId != null && EF.Parameter(people).Contains(mail.PersonId.Value)
                && mail.State != MailState.Expired
            select new { PersonId = mail.PersonId!.Value, item.NoticeId, item.Role, item.Revision, mail.CreatedAt, mail.Key, mail.State }).ToListAsync(stop);
        return new WhatWasTold(
            told.Where(t => t.State != MailState.Failed).ToLookup(t => (t.PersonId, t.NoticeId), t => (t.Role, t.Revision, t.CreatedAt, t.Key)),
            told.Where(t => t.State == MailState.Failed).ToLookup(t => (t.PersonId, t.NoticeId), t => t.Revision),
            await Snoozes.OfAsync(store, personIds, stop));
    }

    /// <summary>As what a notice is to be told to a person on a day; null for not at all.</summary>
    public DigestRole? RoleOf(long personId, IssuedNotice notice, LocalDate day)
    {
        var said = told[(personId, notice.Id)];
        var heard = said.Where(t => t.Role is DigestRole.New or DigestRole.Changed).ToList();
        if (notice.State == NoticeState.Withdrawn)
            return heard.Count > 0 && !said.Any(t => t.Role == DigestRole.Withdrawn) ? DigestRole.Withdrawn : null;
        if (heard.Count == 0)
            return DigestRole.New;
        if (notice.Revisions > heard.Max(t => t.Revision))
            return DigestRole.Changed;
        var heardLast = heard.Max(t => t.At);
        var off = putOff[(personId, notice.Id)].FirstOrDefault();
        // Put off until a day, it is told at length on that day again, as if for the first time.
        return off == default || off.At < heardLast ? DigestRole.Open
            : off.Until > day ? null
            : DigestRole.New;
    }

    /// <summary>
    /// Whether a person was told of a notice as it stands, or the relay would not take the mail for them: to write the same once more on the
    /// same day would be refused as well.
    /// </summary>
    public bool IsKnown(long personId, IssuedNotice notice)
    {
        // By revisions and not by times: one that is written while a mail is composed was not read for it.
        var heard = told[(personId, notice.Id)].Where(t => t.Role is DigestRole.New or DigestRole.Changed).Select(t => (int?)t.Revision)
            .Concat(refused[(personId, notice.Id)].Select(revision => (int?)revision)).Max();
        return heard >= notice.Revisions;
    }

    /// <summary>Keys of the mails of a kind that told a person of a notice, and whether one told that it was withdrawn.</summary>
    public (IReadOnlyList<string> Keys, bool Withdrawn) MailsOf(long personId, long noticeId, string keyPrefix)
    {
        var said = told[(personId, noticeId)].ToList();
        return ([.. said.Where(t => t.Role != DigestRole.Withdrawn && t.Key.StartsWith(keyPrefix, StringComparison.Ordinal)).OrderBy(t => t.At).Select(t => t.Key)],
            said.Exists(t => t.Role == DigestRole.Withdrawn));
    }
}
