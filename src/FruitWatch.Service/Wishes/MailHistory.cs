using FruitWatch.Model.Notices;
using FruitWatch.Service.Notices;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>A mail that somebody was sent, and what it told them.</summary>
/// <param name="Id">Key.</param>
/// <param name="Key">What it was for; see <see cref="OutgoingMail.Key"/>.</param>
/// <param name="Subject">Its subject.</param>
/// <param name="State">Where it stands.</param>
/// <param name="At">When it went out, or was written.</param>
/// <param name="Told">The notices in it; those that the reader may see.</param>
internal sealed record MailTold(long Id, string Key, string Subject, MailState State, Instant At, IReadOnlyList<NoticeTold> Told);

/// <summary>A notice in a mail.</summary>
internal sealed record NoticeTold(NoticeKind Kind, string? Bed, DigestRole Role);

/// <summary>What somebody was sent, and why.</summary>
internal static class MailHistory
{
    /// <summary>So many of the last ones are shown.</summary>
    public const int Most = 20;

    public static async Task<IReadOnlyList<MailTold>> OfAsync(FruitWatchStore store, long personId, CancellationToken stop)
    {
        var mails = await store.Outbox.AsNoTracking().Where(mail => mail.PersonId == personId).OrderByDescending(mail => mail.Id).Take(Most)
            .Select(mail => new { mail.Id, mail.Key, mail.Subject, mail.State, mail.SentAt, mail.CreatedAt }).ToListAsync(stop);
        var keys = mails.Select(mail => mail.Id).ToArray();
        var told = (await (
            from one in store.DigestNotices.AsNoTracking()
            join notice in store.Notices on one.NoticeId equals notice.Id
            join bed in store.Beds on notice.BedId equals bed.Id into beds
            from bed in beds.DefaultIfEmpty()
            where EF.Parameter(keys).Contains(one.MailId)
            orderby one.MailId, one.Role, one.NoticeId
            select new { one.MailId, notice.Kind, Bed = bed == null ? null : bed.Name, one.Role }).ToListAsync(stop)).ToLookup(one => one.MailId);
        return
        [
            .. mails.Select(mail => new MailTold(
                mail.Id, mail.Key, mail.Subject, mail.State, mail.SentAt ?? mail.CreatedAt,
                [.. told[mail.Id].Select(one => new NoticeTold(NoticeRows.KindOf(one.Kind), one.Bed, one.Role))])),
        ];
    }
}
