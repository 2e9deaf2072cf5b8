using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Notices;
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
/// lists all that is urgent for its reader; there are three in a day at most. What falls into somebody's quiet hours is held until they
/// are over, if it is of use then.
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
        var notices = await NoticesAsync(store, now, stop);
        if (notices.Count == 0)
            return 0;
        links.Prepare();
        var readers = (await Readers.AllAsync(store, now, stop)).Where(r => r.Person.Urgent != UrgentWish.Never).ToList();
        var told = await WhatWasTold.ReadAsync(store, [.. readers.Select(r => r.Person.Id)], [.. notices.Select(n => n.Id)], stop);
        var sites = await store.Sites.AsNoTracking().ToDictionaryAsync(s => s.Id, stop);
        var names = await store.Cooperatives.AsNoTracking().ToDictionaryAsync(c => c.Id, c => c.Name, stop);
        var composed = 0;
        SiteBook[]? opened = null;
        foreach (var reader in readers)
        {
            var own = notices.FindAll(n => reader.Sites.Contains(n.SiteId) && reader.IsToldOf(n));
            var news = own.FindAll(n => n.State == NoticeState.Open && !told.IsKnown(reader.Person.Id, n));
            var back = own.FindAll(n => n.State == NoticeState.Withdrawn
                && told.MailsOf(reader.Person.Id, n.Id, KeyPrefix) is { Keys.Count: > 0, Withdrawn: false });
            if (news.Count + back.Count == 0)
                continue;
            opened ??= [.. await books.OpenAsync(store, [.. notices.Select(n => n.SiteId).Distinct()], stop)];
            var letters = new UrgentLetters(reader, opened, catalogue, links, options) { CooperativeName = names[reader.Person.CooperativeId] };
            composed += await TellAsync(store, letters, reader, news, sites, now, stop);
            composed += await TakeBackAsync(store, letters, reader, back, told, sites, now, stop);
        }

        return composed;
    }

    private static async Task<List<IssuedNotice>> NoticesAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var kinds = NoticeKinds.MayBeUrgent.Select(NoticeRows.WordOf).ToArray();
        var (yesterday, lately) = (now.InUtc().Date.PlusDays(-1), now - Duration.FromDays(2));
        var rows = await store.Notices.AsNoTracking()
            .Where(n => EF.Parameter(kinds).Contains(n.Kind)
                && ((n.State == NoticeState.Open && n.Deadline >= yesterday) || (n.State == NoticeState.Withdrawn && n.ClosedAt >= lately)))
            .OrderBy(n => n.Id).ToListAsync(stop);
        return rows.FindAll(n => NoticeRows.Draft(n).Urgent);
    }

    private async Task<int> TellAsync(
        FruitWatchStore store, UrgentLetters letters, Reader reader, List<IssuedNotice> news, Dictionary<long, Site> sites, Instant now, CancellationToken stop)
    {
        var timely = news.FindAll(n => now < OfUseUntil(n, sites) && TellAt(reader.Person, sites[n.SiteId], now) < OfUseUntil(n, sites));
        if (timely.Count == 0)
            return 0;
        var person = reader.Person;
        var day = now.InZone(QuietHours.ZoneOf(person, ZoneOf(sites[timely[0].SiteId]))).Date;
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        if (await AwaitsDigestAsync(store, reader, timely, sites, now, stop))
            return 0;
        var root = FormattableString.Invariant($"{KeyPrefix}{person.Id}:{day:uuuu-MM-dd}:");
        var before = await store.Outbox.CountAsync(m => m.Key.StartsWith(root), stop);
        if (before >= MostADay)
            return 0;
        var site = sites[timely[0].SiteId];
        var mail = NewMail.To(
            person,
            FormattableString.Invariant($"{root}{before + 1}"),
            letters.Write(timely, LetterForm.Urgent, now),
            options,
            now,
            timely.Max(n => OfUseUntil(n, sites)),
            [.. stops.HeadersOf(new StopLink(person.Id, StopTopic.Urgent)), .. Threads.OfBed(timely[0].BedId!.Value, timely[0].Day.Year, options)],
            TellAt(person, site, now));
        return await AddAsync(store, mail, timely.Select(n => (n.Id, n.RevisedAt is null ? DigestRole.New : DigestRole.Changed)), transaction, stop);
    }

    private async Task<int> TakeBackAsync(
        FruitWatchStore store, UrgentLetters letters, Reader reader, List<IssuedNotice> back, WhatWasTold told, Dictionary<long, Site> sites, Instant now, CancellationToken stop)
    {
        var composed = 0;
        foreach (var notice in back)
        {
            var person = reader.Person;
            var key = told.MailsOf(person.Id, notice.Id, KeyPrefix).Keys[^1];
            await using var transaction = await store.Database.BeginTransactionAsync(stop);
            // Not yet begun, it need not be sent, unless it tells of something else as well.
            if (await store.Outbox.Where(m => m.Key == key && m.State == MailState.Pending && m.Attempts == 0
                    && store.DigestNotices.Count(n => n.MailId == m.Id) == 1)
                .ExecuteUpdateAsync(set => set.SetProperty(m => m.State, MailState.Expired).SetProperty(m => m.LastError, "Taken back before it was sent."), stop) == 1)
            {
                await transaction.CommitAsync(stop);
                continue;
            }

            var first = await store.Outbox.AsNoTracking().Where(m => m.Key == key).Select(m => m.MessageId).SingleAsync(stop);
            var site = sites[notice.SiteId];
            var open = TellAt(person, site, now);
            var mail = NewMail.To(
                person,
                FormattableString.Invariant($"{BackPrefix}{person.Id}:{notice.Id}:{notice.Revisions}"),
                letters.Write([notice], LetterForm.TakenBack, now),
                options,
                now,
                open + Duration.FromHours(12),
                [.. stops.HeadersOf(new StopLink(person.Id, StopTopic.Urgent)), .. Threads.AnswerTo(notice.BedId!.Value, notice.Day.Year, first, options)],
                open);
            composed += await AddAsync(store, mail, [(notice.Id, DigestRole.Withdrawn)], transaction, stop);
        }

        return composed;
    }

    private static async Task<int> AddAsync(
        FruitWatchStore store,
        OutgoingMail mail,
        IEnumerable<(long NoticeId, DigestRole Role)> notices,
        Microsoft.EntityFrameworkCore.Storage.IDbContextTransaction transaction,
        CancellationToken stop)
    {
        if (!await store.AddIfNewAsync(mail, stop))
            return 0;
        store.DigestNotices.AddRange(notices.Select(n => new DigestNotice { MailId = mail.Id, NoticeId = n.NoticeId, Role = n.Role }));
        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
        store.ChangeTracker.Clear();
        return 1;
    }

    /// <summary>Whether the morning mail of the day is still to come to somebody who wants one: then it tells of this as well.</summary>
    private static async Task<bool> AwaitsDigestAsync(
        FruitWatchStore store, Reader reader, List<IssuedNotice> news, Dictionary<long, Site> sites, Instant now, CancellationToken stop)
    {
        if (reader.Person.Digests == DigestWish.Never)
            return false;
        var zone = ZoneOf(sites[news[0].SiteId]);
        var day = now.InZone(zone).Date;
        if (now >= LocalMorning.Of(day, DueDigests.NotAfter, zone))
            return false;
        var key = DigestRound.KeyOf(reader.Person.Id, day);
        return !await store.Outbox.AnyAsync(m => m.Key == key, stop);
    }

    private static Instant TellAt(Person person, Site site, Instant now) =>
        person.Urgent == UrgentWish.AtAnyHour ? now : QuietHours.Open(person, ZoneOf(site), now);

    /// <summary>What has to be done by the evening of its last day is of no use after that day.</summary>
    private static Instant OfUseUntil(IssuedNotice notice, Dictionary<long, Site> sites) =>
        ZoneOf(sites[notice.SiteId]).AtStartOfDay(notice.Deadline.PlusDays(1)).ToInstant();

    private static DateTimeZone ZoneOf(Site site) => DateTimeZoneProviders.Tzdb[site.ZoneId];
}
