using FruitWatch.Model.Notices;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Notices;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Urgent;

/// <summary>A mail outside the morning one that is to be written now.</summary>
/// <param name="Reader">Who is told.</param>
/// <param name="Key">Of the mail: whoever comes second with it writes nothing.</param>
/// <param name="Form">Whether it tells of something or takes it back.</param>
/// <param name="Notices">What it is about, of sites that the reader has.</param>
/// <param name="NotBefore">When their quiet hours are over.</param>
/// <param name="NotAfter">Of no use from then on.</param>
/// <param name="Answers">Key of the mail that told of what is taken back.</param>
internal sealed record DueUrgent(
    Reader Reader, string Key, LetterForm Form, IReadOnlyList<IssuedNotice> Notices, Instant NotBefore, Instant NotAfter, string? Answers = null)
{
    public IReadOnlyList<long> SiteIds { get; } = [.. Notices.Select(n => n.SiteId).Distinct().Order()];

    /// <summary>How long a withdrawal is worth reading.</summary>
    private static readonly Duration s_ofUseWhenBack = Duration.FromHours(12);

    /// <summary>All that is due. A fixed number of queries, however many people there are; no book is opened for it.</summary>
    public static async Task<IReadOnlyList<DueUrgent>> FindAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var notices = await NoticesAsync(store, now, stop);
        if (notices.Count == 0)
            return [];
        var concerned = (await Readers.AllAsync(store, now, stop))
            .Where(r => r.Person.Urgent != UrgentWish.Never)
            .Select(r => (Reader: r, Notices: notices.FindAll(n => r.Sites.Contains(n.SiteId) && r.IsToldOf(n))))
            .Where(one => one.Notices.Count > 0).ToList();
        long[] personIds = [.. concerned.Select(one => one.Reader.Person.Id)];
        // Before what was told is read: a mail that another round writes between the two is awaited then, and not told of twice.
        var written = await WrittenAsync(store, personIds, now, stop);
        var told = await WhatWasTold.ReadAsync(store, personIds, [.. notices.Select(n => n.Id)], stop);
        var siteIds = notices.Select(n => n.SiteId).Distinct().ToArray();
        var zones = await store.Sites.Where(s => EF.Parameter(siteIds).Contains(s.Id)).Select(s => new { s.Id, s.ZoneId })
            .ToDictionaryAsync(s => s.Id, s => DateTimeZoneProviders.Tzdb[s.ZoneId], stop);
        var due = new List<DueUrgent>();
        foreach (var (reader, own) in concerned)
        {
            if (ToTell(reader, own.FindAll(n => n.State == NoticeState.Open && !told.IsKnown(reader.Person.Id, n)), written, zones, now) is { } letter)
                due.Add(letter);
            due.AddRange(own.Where(n => n.State == NoticeState.Withdrawn).Select(n => ToTakeBack(reader, n, told, zones[n.SiteId], now)).OfType<DueUrgent>());
        }

        return due;
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

    /// <summary>Keys of people's digests and urgent mails of these days.</summary>
    private static async Task<HashSet<string>> WrittenAsync(FruitWatchStore store, long[] personIds, Instant now, CancellationToken stop)
    {
        var since = now - Duration.FromDays(2);
        return [.. await store.Outbox
            .Where(m => m.CreatedAt >= since && m.PersonId != null && EF.Parameter(personIds).Contains(m.PersonId.Value)
                && (m.Key.StartsWith(DigestRound.KeyPrefix) || m.Key.StartsWith(UrgentRound.KeyPrefix)))
            .Select(m => m.Key).ToListAsync(stop)];
    }

    private static DueUrgent? ToTell(Reader reader, List<IssuedNotice> news, HashSet<string> written, Dictionary<long, DateTimeZone> zones, Instant now)
    {
        var person = reader.Person;
        var timely = news.FindAll(n => TellAt(person, zones[n.SiteId], now) < OfUseUntil(n, zones));
        if (timely.Count == 0)
            return null;
        var zone = zones[timely[0].SiteId];
        if (AwaitsDigest(person, zone, written, now))
            return null;
        var day = now.InZone(QuietHours.ZoneOf(person, zone)).Date;
        var root = FormattableString.Invariant($"{UrgentRound.KeyPrefix}{person.Id}:{day:uuuu-MM-dd}:");
        var before = written.Count(key => key.StartsWith(root, StringComparison.Ordinal));
        return before >= UrgentRound.MostADay
            ? null
            : new DueUrgent(
                reader, FormattableString.Invariant($"{root}{before + 1}"), LetterForm.Urgent, timely, TellAt(person, zone, now), timely.Max(n => OfUseUntil(n, zones)));
    }

    private static DueUrgent? ToTakeBack(Reader reader, IssuedNotice notice, WhatWasTold told, DateTimeZone zone, Instant now)
    {
        var (mails, withdrawn) = told.MailsOf(reader.Person.Id, notice.Id, UrgentRound.KeyPrefix);
        if (mails.Count == 0 || withdrawn)
            return null;
        var open = TellAt(reader.Person, zone, now);
        var key = FormattableString.Invariant($"{UrgentRound.BackPrefix}{reader.Person.Id}:{notice.Id}:{notice.Revisions}");
        return new DueUrgent(reader, key, LetterForm.TakenBack, [notice], open, open + s_ofUseWhenBack, mails[^1]);
    }

    /// <summary>Whether the morning mail of the day is still to come to somebody who wants one: then it tells of this as well.</summary>
    private static bool AwaitsDigest(Person person, DateTimeZone zone, HashSet<string> written, Instant now)
    {
        var day = now.InZone(zone).Date;
        return person.Digests != DigestWish.Never
            && now < LocalMorning.Of(day, DueDigests.NotAfter, zone)
            && !written.Contains(DigestRound.KeyOf(person.Id, day));
    }

    private static Instant TellAt(Person person, DateTimeZone siteZone, Instant now) =>
        person.Urgent == UrgentWish.AtAnyHour ? now : QuietHours.Open(person, siteZone, now);

    /// <summary>What has to be done by the evening of its last day is of no use after that day.</summary>
    private static Instant OfUseUntil(IssuedNotice notice, Dictionary<long, DateTimeZone> zones) =>
        zones[notice.SiteId].AtStartOfDay(notice.Deadline.PlusDays(1)).ToInstant();
}
