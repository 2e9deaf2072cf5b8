using System.Collections.Concurrent;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Wishes;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>
/// Puts one digest per person and local day in the outbox, once all of the person's sites have had their round, or when the
/// others have waited long enough for one that did not. A quiet morning is skipped for those who want it so.
/// </summary>
internal sealed class DigestRound(
    StoreFactory stores, SiteBooks books, BedCatalogue catalogue, LetterLinks links, StopLinks stops, ServiceOptions options, IClock clock)
{
    /// <summary>Keys of digests begin so.</summary>
    public const string KeyPrefix = "digest:";

    /// <summary>Composes all digests that are due.</summary>
    /// <returns>How many went into the outbox.</returns>
    public async Task<int> ComposeDueAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var due = await DueDigests.FindAsync(store, clock.GetCurrentInstant(), stop);
        if (due.Count == 0)
            return 0;

        links.Prepare();
        // Who may wait for news is asked for news before any book is opened.
        return await LetterBatches.WriteAsync(await WithNewsAsync(store, due, stop), d => d.SiteIds, d => d.Person.Id, some => ComposeAsync(some, stop));
    }

    /// <summary>Key of a person's digest of a day: there is one at most.</summary>
    public static string KeyOf(long personId, LocalDate day) => FormattableString.Invariant($"{KeyPrefix}{personId}:{day:uuuu-MM-dd}");

    private static async Task<IReadOnlyList<DueDigest>> WithNewsAsync(FruitWatchStore store, IReadOnlyList<DueDigest> due, CancellationToken stop)
    {
        var choosy = due.Where(d => d.Person.Digests == DigestWish.WhenThereIsNews).ToList();
        if (choosy.Count == 0)
            return due;
        var notices = await NoticesAsync(store, [.. choosy.SelectMany(d => d.SiteIds).Distinct()], choosy.Min(d => d.Day), stop);
        var told = await WhatWasTold.ReadAsync(store, [.. choosy.Select(d => d.Person.Id).Distinct()], [.. notices.SelectMany(n => n).Select(n => n.Id)], stop);
        var quiet = choosy.Where(d => !ItemsOf(d, notices, told).Any(item => item.Role != DigestRole.Open)).ToHashSet();
        return [.. due.Where(d => !quiet.Contains(d))];
    }

    private async Task<int> ComposeAsync(IReadOnlyList<DueDigest> due, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        long[] siteIds = [.. due.SelectMany(d => d.SiteIds).Distinct()];
        long[] personIds = [.. due.Select(d => d.Person.Id).Distinct()];
        var sites = (await books.OpenAsync(store, siteIds, stop)).ToDictionary(s => s.Row.Id);
        var cooperatives = due.Select(d => d.Person.CooperativeId).Distinct().ToArray();
        var names = await store.Cooperatives.AsNoTracking().Where(c => EF.Parameter(cooperatives).Contains(c.Id)).ToDictionaryAsync(c => c.Id, c => c.Name, stop);
        var credits = await Credits.OfAsync(store, [.. sites.Values.Select(s => s.Row)], options, stop);

        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        await SupersedeAsync(store, personIds, [.. due.Select(d => KeyOf(d.Person.Id, d.Day))], stop);
        var now = clock.GetCurrentInstant();
        var notices = await NoticesAsync(store, siteIds, due.Min(d => d.Day), stop);
        var told = await WhatWasTold.ReadAsync(store, personIds, [.. notices.SelectMany(n => n).Select(n => n.Id)], stop);
        var written = new ConcurrentBag<(OutgoingMail Mail, IReadOnlyList<DigestItem> Items)>();
        Parallel.ForEach(due, digest => written.Add(Write(digest, sites, names[digest.Person.CooperativeId], credits, ItemsOf(digest, notices, told), now)));

        var mails = written.OrderBy(one => one.Mail.Key, StringComparer.Ordinal).ToList();
        var added = await store.AddNewAsync([.. mails.Select(one => one.Mail)], stop);
        store.DigestNotices.AddRange(mails.Where(one => added.Contains(one.Mail.Key))
            .SelectMany(one => one.Items.Select(i => new DigestNotice { MailId = one.Mail.Id, NoticeId = i.Notice.Id, Role = i.Role, Revision = i.Notice.Revisions })));
        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
        return added.Count;
    }

    private (OutgoingMail Mail, IReadOnlyList<DigestItem> Items) Write(
        DueDigest due, Dictionary<long, SiteBook> sites, string cooperative, ILookup<long, string> credits, IReadOnlyList<DigestItem> items, Instant now)
    {
        var byBed = items.ToLookup(i => i.Notice.BedId!.Value);
        var digest = new Digest(
            due.Person, due.Day, cooperative, [.. due.SiteIds.Select(id => DigestSites.Of(sites[id], catalogue, due.Reader, byBed, [.. credits[id]]))], due.Late)
        {
            BaseUrl = options.BaseUrl,
            For = due.Reader.For,
            Links = links.For(due.Reader, StopTopic.Digest, now),
        };
        var mail = NewMail.To(
            due.Person,
            KeyOf(due.Person.Id, due.Day),
            DigestWriter.Write(digest, Words.For(due.Person.Language, due.Person.Units)),
            options,
            now,
            due.NotAfter,
            [.. stops.HeadersOf(new StopLink(due.Person.Id, StopTopic.Digest)), .. Threads.OfDigests(due.Person.Id, due.Day.Year, options)]);
        return (mail, items);
    }

    /// <summary>
    /// A digest of an earlier day that never went out gives way: what it would have told counts as untold again. One of this day does not:
    /// a round that this one met has just written it, and it is the one that will be sent.
    /// </summary>
    private static Task<int> SupersedeAsync(FruitWatchStore store, long[] personIds, string[] ofThisDay, CancellationToken stop) => store.Outbox
        .Where(m => m.PersonId != null && EF.Parameter(personIds).Contains(m.PersonId.Value) && m.Key.StartsWith(KeyPrefix) && m.State == MailState.Pending
            && !EF.Parameter(ofThisDay).Contains(m.Key)
            && (m.LastError == null || !m.LastError.StartsWith(MailMark.InDoubt)))
        .ExecuteUpdateAsync(
            set => set.SetProperty(m => m.State, MailState.Expired).SetProperty(m => m.LastError, m => ((m.LastError ?? "") + " Superseded by the next digest.").Trim()), stop);

    private static async Task<ILookup<long, IssuedNotice>> NoticesAsync(FruitWatchStore store, long[] siteIds, LocalDate day, CancellationToken stop)
    {
        var since = day.PlusDays(-30);
        var rows = await store.Notices.AsNoTracking()
            .Where(n => EF.Parameter(siteIds).Contains(n.SiteId) && store.Beds.Any(bed => bed.Id == n.BedId && bed.RetiredOn == null)
                && (n.State == NoticeState.Open || (n.State == NoticeState.Withdrawn && n.ClosedOn >= since)))
            .OrderBy(n => n.Id).ToListAsync(stop);
        return rows.ToLookup(n => n.SiteId);
    }

    private static IReadOnlyList<DigestItem> ItemsOf(DueDigest due, ILookup<long, IssuedNotice> notices, WhatWasTold told) =>
    [
        .. due.SiteIds.SelectMany(site => notices[site])
            .Where(due.Reader.IsToldOf)
            .Select(n => told.RoleOf(due.Person.Id, n, due.Day) is { } role ? new DigestItem(role, n) : null)
            .OfType<DigestItem>(),
    ];
}
