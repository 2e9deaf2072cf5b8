using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Wishes;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Urgent;

/// <summary>
/// Tells people outside the morning mail of what cannot wait for the next one, and takes it back when the forecast has turned. A mail
/// lists all that is urgent for its reader; there are three in a day at most. What falls into somebody's quiet hours is written when they
/// are over, if it still holds and is of use then.
/// </summary>
internal sealed class UrgentRound(
    StoreFactory stores, SiteBooks books, BedCatalogue catalogue, LetterLinks links, StopLinks stops, ServiceOptions options, IClock clock)
{
    /// <summary>Keys of mails about what is urgent begin so.</summary>
    public const string KeyPrefix = "urgent:";

    /// <summary>Keys of mails that take it back begin so.</summary>
    public const string BackPrefix = "taken-back:";

    /// <summary>More would not be read. Withdrawals do not count.</summary>
    public const int MostADay = 3;

    /// <summary>Puts what is due into the outbox.</summary>
    /// <returns>How many mails.</returns>
    public async Task<int> ComposeAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var now = clock.GetCurrentInstant();
        var due = await DueUrgent.FindAsync(store, now, stop);
        if (due.Count == 0)
            return 0;
        var answered = await AnsweredAsync(store, [.. due.Select(d => d.Answers).OfType<string>().Distinct()], stop);
        links.Prepare();
        return await LetterBatches.WriteAsync(
            due.Where(d => d.Answers is null || answered.ContainsKey(d.Answers)),
            d => d.SiteIds,
            d => d.Reader.Person.Id,
            some => WriteAsync(some, answered, now, stop));
    }

    /// <summary>Mails that are to be taken back need not go out if they have not begun to, unless they tell of something that still holds.</summary>
    /// <returns>Message-IDs of those that went out, or may have, by key: to be answered.</returns>
    private static async Task<IReadOnlyDictionary<string, string>> AnsweredAsync(FruitWatchStore store, string[] keys, CancellationToken stop)
    {
        if (keys.Length == 0)
            return new Dictionary<string, string>();
        await store.Outbox
            .Where(m => EF.Parameter(keys).Contains(m.Key) && m.State == MailState.Pending && m.Attempts == 0
                && !store.DigestNotices.Any(told => told.MailId == m.Id && store.Notices.Any(n => n.Id == told.NoticeId && n.State == NoticeState.Open)))
            .ExecuteUpdateAsync(set => set.SetProperty(m => m.State, MailState.Expired).SetProperty(m => m.LastError, "Taken back before it was sent."), stop);
        return await store.Outbox.Where(m => EF.Parameter(keys).Contains(m.Key) && m.State != MailState.Expired)
            .Select(m => new { m.Key, m.MessageId }).ToDictionaryAsync(m => m.Key, m => m.MessageId, stop);
    }

    private async Task<int> WriteAsync(IReadOnlyList<DueUrgent> due, IReadOnlyDictionary<string, string> answered, Instant now, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var opened = await books.OpenAsync(store, [.. due.SelectMany(d => d.SiteIds).Distinct()], stop);
        var cooperatives = due.Select(d => d.Reader.Person.CooperativeId).Distinct().ToArray();
        var names = await store.Cooperatives.AsNoTracking().Where(c => EF.Parameter(cooperatives).Contains(c.Id)).ToDictionaryAsync(c => c.Id, c => c.Name, stop);
        var mails = due.Select(d => (Due: d, Mail: Write(d, opened, names[d.Reader.Person.CooperativeId], answered, now))).ToList();

        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        var added = await store.AddNewAsync([.. mails.Select(one => one.Mail)], stop);
        store.DigestNotices.AddRange(mails.Where(one => added.Contains(one.Mail.Key))
            .SelectMany(one => one.Due.Notices.Select(n => new DigestNotice { MailId = one.Mail.Id, NoticeId = n.Id, Role = RoleOf(one.Due.Form, n), Revision = n.Revisions })));
        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
        return added.Count;
    }

    private OutgoingMail Write(DueUrgent due, IReadOnlyList<SiteBook> opened, string cooperative, IReadOnlyDictionary<string, string> answered, Instant now)
    {
        var (person, first) = (due.Reader.Person, due.Notices[0]);
        var letters = new UrgentLetters(due.Reader, opened, catalogue, links, options) { CooperativeName = cooperative };
        var thread = due.Answers is { } answers
            ? Threads.AnswerTo(first.BedId!.Value, first.Day.Year, answered[answers], options)
            : Threads.OfBed(first.BedId!.Value, first.Day.Year, options);
        return NewMail.To(
            person,
            due.Key,
            letters.Write(due.Notices, due.Form, now),
            options,
            now,
            due.NotAfter,
            [.. stops.HeadersOf(new StopLink(person.Id, StopTopic.Urgent)), .. thread]);
    }

    /// <summary>As what a notice is told by a mail.</summary>
    public static DigestRole RoleOf(LetterForm form, IssuedNotice notice) =>
        form == LetterForm.TakenBack ? DigestRole.Withdrawn : notice.RevisedAt is null ? DigestRole.New : DigestRole.Changed;
}
