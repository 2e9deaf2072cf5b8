using FruitWatch.Feeds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>
/// Puts one digest per person and local day in the outbox, once all of the person's sites have had their round, or when the
/// others have waited long enough for one that did not.
/// </summary>
internal sealed class DigestRound(StoreFactory stores, SiteBooks books, BedCatalogue catalogue, ServiceOptions options, IClock clock)
{
    private const string KeyPrefix = "digest:";

    /// <summary>Composes all digests that are due.</summary>
    /// <returns>How many went into the outbox.</returns>
    public async Task<int> ComposeDueAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var due = await DueDigests.FindAsync(store, clock.GetCurrentInstant(), stop);
        if (due.Count == 0)
            return 0;

        var sites = (await books.OpenAsync(store, [.. due.SelectMany(d => d.SiteIds).Distinct()], stop)).ToDictionary(s => s.Row.Id);
        var names = await store.Cooperatives.AsNoTracking().ToDictionaryAsync(c => c.Id, c => c.Name, stop);
        var credits = await AttributionsAsync(store, stop);
        var composed = 0;
        foreach (var one in due)
            composed += await ComposeAsync(store, one, sites, names[one.Person.CooperativeId], credits, stop) ? 1 : 0;
        return composed;
    }

    /// <summary>Key of a person's digest of a day: there is one at most.</summary>
    public static string KeyOf(long personId, LocalDate day) => FormattableString.Invariant($"{KeyPrefix}{personId}:{day:uuuu-MM-dd}");

    private async Task<bool> ComposeAsync(
        FruitWatchStore store,
        DueDigest due,
        Dictionary<long, SiteBook> sites,
        string cooperative,
        ILookup<long, string> credits,
        CancellationToken stop)
    {
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        await SupersedeAsync(store, due.Person.Id, stop);
        var told = await ToldAsync(store, due.Person.Id, stop);
        var own = due.SiteIds.Select(id => sites[id]).ToList();
        var items = await ItemsAsync(store, own, told, due.Day, stop);
        var digest = new Digest(
            due.Person, due.Day, cooperative, [.. own.Select(s => DigestSiteOf(s, due.OwnBeds, items, [.. credits[s.Row.Id]]))], due.Late)
        {
            BaseUrl = options.BaseUrl,
        };
        var words = Words.For(due.Person.Language, due.Person.Units);
        var written = DigestWriter.Write(digest, words);
        var now = clock.GetCurrentInstant();
        var key = KeyOf(due.Person.Id, due.Day);
        var mail = new OutgoingMail
        {
            Key = key,
            CooperativeId = due.Person.CooperativeId,
            PersonId = due.Person.Id,
            ToName = due.Person.Name,
            ToAddress = due.Person.Email,
            Subject = written.Subject,
            TextBody = written.Text,
            HtmlBody = written.Html,
            MessageId = FormattableString.Invariant($"{key.Replace(':', '.')}@{options.BaseUrl.Host}"),
            State = MailState.Pending,
            NextTryAt = now,
            NotAfter = due.NotAfter,
            CreatedAt = now,
        };
        if (!await store.AddIfNewAsync(mail, stop))
            return false;
        store.DigestNotices.AddRange(digest.Items.Select(i => new DigestNotice { MailId = mail.Id, NoticeId = i.Notice.Id, Role = i.Role }));
        await store.SaveChangesAsync(stop);
        store.ChangeTracker.Clear();
        await transaction.CommitAsync(stop);
        return true;
    }

    /// <summary>A digest of an earlier day that never went out gives way: what it would have told counts as untold again.</summary>
    private static Task<int> SupersedeAsync(FruitWatchStore store, long personId, CancellationToken stop) => store.Outbox
        .Where(m => m.PersonId == personId && m.Key.StartsWith(KeyPrefix) && m.State == MailState.Pending && (m.LastError == null || !m.LastError.StartsWith(MailMark.InDoubt)))
        .ExecuteUpdateAsync(
            set => set.SetProperty(m => m.State, MailState.Expired).SetProperty(m => m.LastError, m => (m.LastError ?? "") + " Superseded by the next digest."), stop);

    /// <summary>What mails that went out, or may have, told this person of.</summary>
    private static async Task<HashSet<(long NoticeId, DigestRole Role, Instant At)>> ToldAsync(
        FruitWatchStore store, long personId, CancellationToken stop)
    {
        var told = await (
            from item in store.DigestNotices.AsNoTracking()
            join mail in store.Outbox on item.MailId equals mail.Id
            where mail.PersonId == personId && mail.State != MailState.Expired && mail.State != MailState.Failed
            select new { item.NoticeId, item.Role, mail.CreatedAt }).ToListAsync(stop);
        return [.. told.Select(t => (t.NoticeId, t.Role, t.CreatedAt))];
    }

    private static async Task<ILookup<long, DigestItem>> ItemsAsync(
        FruitWatchStore store,
        List<SiteBook> own,
        HashSet<(long NoticeId, DigestRole Role, Instant At)> told,
        LocalDate day,
        CancellationToken stop)
    {
        var siteIds = own.Select(s => s.Row.Id).ToArray();
        var since = day.PlusDays(-30);
        var rows = await store.Notices.AsNoTracking()
            .Where(n => EF.Parameter(siteIds).Contains(n.SiteId)
                && (n.State == NoticeState.Open || (n.State == NoticeState.Withdrawn && n.ClosedOn >= since)))
            .OrderBy(n => n.Id).ToListAsync(stop);
        var toldOf = told.ToLookup(t => t.NoticeId);
        return rows
            .Select(n => RoleOf(n, [.. toldOf[n.Id]]) is { } role ? new DigestItem(role, n) : null)
            .OfType<DigestItem>()
            .Where(i => i.Notice.BedId is not null)
            .ToLookup(i => i.Notice.BedId!.Value);
    }

    private static DigestRole? RoleOf(IssuedNotice notice, (long NoticeId, DigestRole Role, Instant At)[] told)
    {
        var heard = told.Any(t => t.Role is DigestRole.New or DigestRole.Changed);
        if (notice.State == NoticeState.Withdrawn)
            return heard && !told.Any(t => t.Role == DigestRole.Withdrawn) ? DigestRole.Withdrawn : null;
        if (!heard)
            return DigestRole.New;
        var heardLast = told.Where(t => t.Role is DigestRole.New or DigestRole.Changed).Max(t => t.At);
        return notice.RevisedAt > heardLast ? DigestRole.Changed : DigestRole.Open;
    }

    private DigestSite DigestSiteOf(
        SiteBook site, IReadOnlySet<long>? ownBeds, ILookup<long, DigestItem> items, IReadOnlyList<string> credits) => new(
        site.Row.Name,
        site.Forecast,
        site.On(site.Today),
        [.. site.Weather.Where(d => d.Date > site.Today)],
        string.Join("; ", credits),
        [
            .. site.Beds.Where(b => ownBeds?.Contains(b.Row.Id) != false).Select(b => new DigestBed(
                b.Row.Id, b.Row.Name, catalogue.Species[b.Row.SpeciesKey], b.Account?.On(site.Today), b.Problem, [.. items[b.Row.Id]])),
        ])
        {
            Zone = site.Zone,
        };

    private async Task<ILookup<long, string>> AttributionsAsync(FruitWatchStore store, CancellationToken stop)
    {
        var feeds = await store.Feeds.AsNoTracking().ToDictionaryAsync(f => f.Id, f => CreditOf(FeedDescription.Parse(f.Description, options.LocalStationSet).Attribution), stop);
        var sites = await store.Sites.AsNoTracking().ToListAsync(stop);
        return sites
            .SelectMany(s => FilledSlot.Feeds(s).Reverse(), (s, slot) => (s.Id, Text: feeds[slot.FeedId]))
            .Distinct()
            .ToLookup(s => s.Id, s => s.Text);
    }

    /// <summary>All that a provider asks to be named: who, under which licence, and where.</summary>
    private static string CreditOf(FeedAttribution credit) =>
        string.Join(", ", new[] { credit.Text, credit.Licence, credit.Url }.Where(part => !string.IsNullOrWhiteSpace(part)));
}
