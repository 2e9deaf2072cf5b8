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
/// <param name="NotAfter">Of no use from then on.</param>
/// <param name="Answers">Key of the mail that told of what is taken back.</param>
internal sealed record DueUrgent(
    Reader Reader, string Key, LetterForm Form, IReadOnlyList<IssuedNotice> Notices, Instant NotAfter, string? Answers = null)
{
    public IReadOnlyList<long> SiteIds { get; } = [.. Notices.Select(n => n.SiteId).Distinct().Order()];

    /// <summary>How near the morning mail has to be for something urgent to be left to it, and how late it may be.</summary>
    private static readonly Duration s_near = Duration.FromHours(1);

    /// <summary>
    /// All that is due. In somebody's quiet hours nothing is: the first look after them finds what holds then. A fixed number of queries,
    /// however many people there are; no book is opened for it.
    /// </summary>
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
        var siteIds = concerned.SelectMany(one => one.Reader.Sites).Distinct().ToArray();
        var sites = await store.Sites.AsNoTracking().Where(s => EF.Parameter(siteIds).Contains(s.Id)).ToDictionaryAsync(s => s.Id, stop);
        var due = new List<DueUrgent>();
        foreach (var (reader, own) in concerned)
        {
            var timely = own.FindAll(n => now < OfUseUntil(n, ZoneOf(sites[n.SiteId])) && MayTell(reader.Person, ZoneOf(sites[n.SiteId]), now));
            var news = timely.FindAll(n => n.State == NoticeState.Open && !told.IsKnown(reader.Person.Id, n));
            if (news.Count > 0 && ToTell(reader, news, written, [.. reader.Sites.Select(id => sites[id])], now) is { } letter)
                due.Add(letter);
            due.AddRange(timely.Where(n => n.State == NoticeState.Withdrawn).Select(n => ToTakeBack(reader, n, told, ZoneOf(sites[n.SiteId]), now)).OfType<DueUrgent>());
        }

        return due;
    }

    private static async Task<List<IssuedNotice>> NoticesAsync(FruitWatchStore store, Instant now, CancellationToken stop)
    {
        var kinds = NoticeKinds.MayBeUrgent.Select(NoticeRows.WordOf).ToArray();
        var (yesterday, lately) = (now.InUtc().Date.PlusDays(-1), now - Duration.FromDays(2));
        var rows = await store.Notices.AsNoTracking()
            .Where(n => EF.Parameter(kinds).Contains(n.Kind)
                && store.Beds.Any(bed => bed.Id == n.BedId && bed.RetiredOn == null)
                && ((n.State == NoticeState.Open && n.Deadline >= yesterday) || (n.State == NoticeState.Withdrawn && n.ClosedAt >= lately)))
            .OrderBy(n => n.Id).ToListAsync(stop);
        return rows.FindAll(n => NoticeRows.Draft(n).Urgent);
    }

    /// <summary>Keys of people's digests and urgent mails of these days, with where each mail stands.</summary>
    private static async Task<Dictionary<string, MailState>> WrittenAsync(FruitWatchStore store, long[] personIds, Instant now, CancellationToken stop)
    {
        var since = now - Duration.FromDays(2);
        return await store.Outbox
            .Where(m => m.CreatedAt >= since && m.PersonId != null && EF.Parameter(personIds).Contains(m.PersonId.Value)
                && (m.Key.StartsWith(DigestRound.KeyPrefix) || m.Key.StartsWith(UrgentRound.KeyPrefix)))
            .Select(m => new { m.Key, m.State }).ToDictionaryAsync(m => m.Key, m => m.State, stop);
    }

    private static DueUrgent? ToTell(Reader reader, List<IssuedNotice> news, Dictionary<string, MailState> written, List<Site> own, Instant now)
    {
        var person = reader.Person;
        var zones = own.ToDictionary(s => s.Id, ZoneOf);
        var zone = zones[news[0].SiteId];
        if (AwaitsDigest(person, now.InZone(zone).Date, own, written, now))
            return null;
        var day = now.InZone(QuietHours.ZoneOf(person, zone)).Date;
        var root = FormattableString.Invariant($"{UrgentRound.KeyPrefix}{person.Id}:{day:uuuu-MM-dd}:");
        var today = written.Where(mail => mail.Key.StartsWith(root, StringComparison.Ordinal)).ToList();
        // What was taken back before it went, or did not go out in time, was read by nobody.
        return today.Count(mail => mail.Value != MailState.Expired) >= UrgentRound.MostADay
            ? null
            : new DueUrgent(
                reader,
                FormattableString.Invariant($"{root}{today.Count + 1}"),
                LetterForm.Urgent,
                news,
                Until(person, zone, now, news.Max(n => OfUseUntil(n, zones[n.SiteId]))));
    }

    private static DueUrgent? ToTakeBack(Reader reader, IssuedNotice notice, WhatWasTold told, DateTimeZone zone, Instant now)
    {
        var (mails, withdrawn) = told.MailsOf(reader.Person.Id, notice.Id, UrgentRound.KeyPrefix);
        if (mails.Count == 0 || withdrawn)
            return null;
        var key = FormattableString.Invariant($"{UrgentRound.BackPrefix}{reader.Person.Id}:{notice.Id}:{notice.Revisions}");
        return new DueUrgent(reader, key, LetterForm.TakenBack, [notice], Until(reader.Person, zone, now, OfUseUntil(notice, zone)), mails[^1]);
    }

    /// <summary>
    /// Whether the morning mail of the day is about to come to somebody who wants one: then it tells of this as well. One that is hours
    /// away, or that something keeps back, is not waited for.
    /// </summary>
    private static bool AwaitsDigest(Person person, LocalDate day, List<Site> own, Dictionary<string, MailState> written, Instant now)
    {
        if (person.Digests == DigestWish.Never || written.ContainsKey(DigestRound.KeyOf(person.Id, day)))
            return false;
        var expected = DueDigests.ExpectedAt(person, day, own);
        return now >= expected - s_near && now < expected + s_near;
    }

    private static bool MayTell(Person person, DateTimeZone siteZone, Instant now) =>
        person.Urgent == UrgentWish.AtAnyHour || !QuietHours.Hold(person, siteZone, now);

    /// <summary>What is tried again in the evening is not tried in somebody's quiet hours; what still holds after them is written anew.</summary>
    private static Instant Until(Person person, DateTimeZone siteZone, Instant now, Instant ofUse) =>
        person.Urgent != UrgentWish.AtAnyHour && QuietHours.Begin(person, siteZone, now) is { } quiet ? Instant.Min(ofUse, quiet) : ofUse;

    /// <summary>What has to be done by the evening of its last day is of no use after that day.</summary>
    private static Instant OfUseUntil(IssuedNotice notice, DateTimeZone zone) => zone.AtStartOfDay(notice.Deadline.PlusDays(1)).ToInstant();

    private static DateTimeZone ZoneOf(Site site) => DateTimeZoneProviders.Tzdb[site.ZoneId];
}
