using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Log;
using FruitWatch.Service.Notices;
using FruitWatch.Service.People;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Deeds;

/// <summary>
/// What links of mails do. Whoever holds a link acts for the person whose mail it stands in, with no more than that person may do at the
/// bed at this moment, and signs in nowhere. A link acts once: sent again it finds what it did, and can take it back.
/// </summary>
internal sealed class DeedBook(DeedLinks links, StoreFactory stores, SiteBooks books, BedCatalogue catalogue, IClock clock)
{
    /// <summary>The way of these deeds in the audit.</summary>
    public const string Via = "mail";

    /// <summary>Days for which a notice can be put off.</summary>
    public static readonly IReadOnlyList<int> SnoozeDays = [1, 3, 7];

    private const int Attempts = 3;

    /// <summary>What a link leads to. Changes nothing.</summary>
    public async Task<DeedSight> LookAsync(string? token, CancellationToken stop)
    {
        await using var desk = await OpenAsync(token, stop);
        return desk.Refused ?? await LookAsync(desk, stop);
    }

    /// <summary>Does what a link is for; where it was done before, nothing more.</summary>
    /// <param name="token">The link.</param>
    /// <param name="seen">How often the notice had changed when the button was shown; null where that is not known.</param>
    /// <param name="days">For how many days it is put off.</param>
    /// <param name="stop">Stops it.</param>
    public Task<DeedSight> DoAsync(string? token, int? seen, int? days, CancellationToken stop) => ActAsync(
        token,
        async (desk, sight) =>
        {
            if (sight.State != DeedState.Ready)
                return sight;
            if (seen is not null && seen != sight.Notice!.Revisions)
                return sight with { LookAgain = true };
            if (desk.Link.Deed == Deed.Snooze && !SnoozeDays.Contains(days ?? 0))
                return sight with { NoDay = true };
            var now = clock.GetCurrentInstant();
            if (sight.Entry is { } entry)
                await desk.Log.AddAsync(entry, null, stop);
            var row = await desk.Store.MailDeeds.SingleOrDefaultAsync(deed => deed.Nonce == desk.Nonce, stop) ?? desk.Store.MailDeeds.Add(new MailDeed
            {
                CooperativeId = desk.Person.CooperativeId,
                PersonId = desk.Person.Id,
                NoticeId = desk.Link.NoticeId,
                Nonce = desk.Nonce,
                Deed = ApiJson.WordOf(desk.Link.Deed),
            }).Entity;
            (row.At, row.LogEntryId, row.UndoneAt) = (now, sight.Entry?.Id, null);
            row.Until = desk.Link.Deed == Deed.Snooze ? sight.Today.PlusDays(days!.Value) : null;
            await desk.Store.SaveChangesAsync(stop);
            return null;
        },
        stop);

    /// <summary>Takes back what a link did; where that was taken back before, nothing more.</summary>
    public Task<DeedSight> UndoAsync(string? token, CancellationToken stop) => ActAsync(
        token,
        async (desk, sight) =>
        {
            if (!sight.MayUndo)
                return sight;
            var row = await desk.Store.MailDeeds.SingleAsync(deed => deed.Nonce == desk.Nonce, stop);
            row.UndoneAt = clock.GetCurrentInstant();
            if (row.LogEntryId is { } key && await desk.Log.FindAsync(sight.Bed!.Id, key, stop) is { } entry)
                await desk.Log.UndoAsync(entry, stop);
            await desk.Store.SaveChangesAsync(stop);
            return null;
        },
        stop);

    /// <summary>One deed in one transaction, looked at once more within it.</summary>
    private async Task<DeedSight> ActAsync(string? token, Func<DeedDesk, DeedSight, Task<DeedSight?>> act, CancellationToken stop)
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                await using var desk = await OpenAsync(token, stop);
                if (desk.Refused is { } refused)
                    return refused;
                await using var transaction = await desk.Store.Database.BeginTransactionAsync(stop);
                // Holds the notice: a second finger on the same button waits until this is decided, and then finds it done.
                await desk.Store.Notices.Where(row => row.Id == desk.Link.NoticeId)
                    .ExecuteUpdateAsync(set => set.SetProperty(row => row.Version, row => row.Version), stop);
                if (await act(desk, await LookAsync(desk, stop)) is { } instead)
                    return instead;
                await transaction.CommitAsync(stop);
                desk.Store.ChangeTracker.Clear();
                return await LookAsync(desk, stop);
            }
            catch (DbUpdateException) when (attempt < Attempts)
            {
                // The morning round, or somebody on a page, was at the same notice: once more, as things stand now.
            }
            catch (LogEntryException)
            {
                // A notice about a bed that takes no such entry: there is nothing to be done from here.
                return new DeedSight(DeedState.NotTheirs) { Link = links.Read(token!) };
            }
        }
    }

    /// <summary>Finds whose link it is, and opens their cooperative as far as they see it.</summary>
    private async Task<DeedDesk> OpenAsync(string? token, CancellationToken stop)
    {
        if (token is null || links.Read(token) is not { } link || !Enum.IsDefined(link.Deed))
            return new DeedDesk { Refused = new DeedSight(DeedState.Unknown) };
        await using var everything = stores.CreateDbContext();
        var person = await everything.People.AsNoTracking().Include(row => row.Sites).SingleOrDefaultAsync(row => row.Id == link.PersonId, stop);
        if (person is not { Active: true })
            return new DeedDesk { Refused = new DeedSight(DeedState.NotMember) { Link = link, Person = person } };
        var cooperative = await everything.Cooperatives.AsNoTracking().SingleAsync(row => row.Id == person.CooperativeId, stop);
        var visitor = new Visitor();
        visitor.Is(person, cooperative, null, Via, Rights.OfRole(person.Role));
        var reach = new Reach();
        reach.Open(person, cooperative.GrowersReadAll, Via, clock);
        var store = stores.CreateDbContext(reach);
        return new DeedDesk
        {
            Link = link,
            Nonce = Secrets.Hash(token),
            Person = person,
            Store = store,
            Access = new BedAccess(visitor, store),
            Log = new LogBook(store, books, catalogue, new Recorders(store, visitor), clock),
        };
    }

    private async Task<DeedSight> LookAsync(DeedDesk desk, CancellationToken stop)
    {
        var (link, store, now) = (desk.Link, desk.Store, clock.GetCurrentInstant());
        var sight = new DeedSight(DeedState.NotTheirs) { Link = link, Person = desk.Person, Past = link.Until <= now };
        var notice = await store.Notices.AsNoTracking().SingleOrDefaultAsync(row => row.Id == link.NoticeId, stop);
        var bed = notice?.BedId is { } key ? await store.Beds.AsNoTracking().SingleOrDefaultAsync(row => row.Id == key, stop) : null;
        if (notice is null || bed is null || (link.Deed != Deed.Snooze && !await desk.Access.MayAsync(Right.WriteLog, bed.Id, stop)))
            return sight.Past ? sight with { State = DeedState.Expired } : sight;

        var site = await store.Sites.AsNoTracking().SingleAsync(row => row.Id == bed.SiteId, stop);
        var zone = DateTimeZoneProviders.Tzdb[site.ZoneId];
        var today = now.InZone(zone).Date;
        sight = sight with
        {
            Site = site,
            Bed = bed,
            Species = catalogue.Species.GetValueOrDefault(bed.SpeciesKey),
            Notice = notice,
            Draft = NoticeRows.Draft(notice),
            Today = today,
            Entry = DeedEntries.Of(link.Deed, notice, today),
            Changed = notice.State == NoticeState.Open && notice.Revisions != link.Revision,
        };
        var told = await DeedsToldAsync(store, notice.Id, stop);
        var own = told.Find(deed => deed.Row.Nonce == desk.Nonce);
        if (own is { Counts: true })
        {
            return sight with
            {
                State = DeedState.Done,
                Entry = own.Entry ?? sight.Entry,
                DoneAt = own.Row.At.InZone(zone).LocalDateTime,
                Until = own.Row.Until,
                Corrected = own.Corrected,
            };
        }

        sight = sight with { UndoneAt = own?.UndoneAt?.InZone(zone).LocalDateTime };
        if (sight.Past)
            return sight with { State = DeedState.Expired };
        if (bed.RetiredOn is not null)
            return sight with { State = DeedState.BedRetired };
        if (link.Deed != Deed.Snooze && sight.Entry is null)
            return sight with { State = DeedState.NotTheirs };
        // Two mails told of it, or two people: what one of them gave today is not given twice.
        var same = link.Deed == Deed.Snooze ? null : told.Find(deed =>
            deed.Counts && deed.Row.Deed == ApiJson.WordOf(link.Deed) && deed.Row.At.InZone(zone).Date == today);
        if (same is not null)
        {
            var name = await store.People.Where(row => row.Id == same.Row.PersonId).Select(row => row.Name).SingleOrDefaultAsync(stop);
            return sight with { State = DeedState.Ended, DoneBy = name, DoneAt = same.Row.At.InZone(zone).LocalDateTime };
        }

        return sight with { State = notice.State == NoticeState.Open || EndedByWhatWasUndone(notice, told) ? DeedState.Ready : DeedState.Ended };
    }

    /// <summary>Closed as done by an entry from a mail that was taken back afterwards: then it is still to be done.</summary>
    private static bool EndedByWhatWasUndone(IssuedNotice notice, List<DeedTold> told) =>
        notice.State == NoticeState.Done
        && !told.Exists(deed => deed.Counts && deed.Row.LogEntryId is not null)
        && told.Exists(deed => deed.Row.LogEntryId is not null && deed.UndoneAt >= notice.ClosedAt);

    private static async Task<List<DeedTold>> DeedsToldAsync(FruitWatchStore store, long noticeId, CancellationToken stop)
    {
        var rows = await store.MailDeeds.AsNoTracking().Where(row => row.NoticeId == noticeId).OrderBy(row => row.Id).ToListAsync(stop);
        var keys = rows.Select(row => row.LogEntryId).OfType<long>().ToArray();
        var entries = await store.LogEntries.AsNoTracking().Where(entry => keys.Contains(entry.Id)).ToDictionaryAsync(entry => entry.Id, stop);
        var corrected = await store.LogEntries.Where(entry => entry.ReplacesId != null && keys.Contains(entry.ReplacesId.Value))
            .Select(entry => entry.ReplacesId!.Value).ToListAsync(stop);
        return [.. rows.Select(row => new DeedTold(row, row.LogEntryId is { } key ? entries.GetValueOrDefault(key) : null, row.LogEntryId is { } old && corrected.Contains(old)))];
    }

    /// <summary>A deed of the notice, with what has become of its entry since.</summary>
    private sealed record DeedTold(MailDeed Row, LogEntry? Entry, bool Corrected)
    {
        /// <summary>When it was taken back: by its link, or its entry on the page of the bed.</summary>
        public Instant? UndoneAt => Row.UndoneAt ?? (Corrected ? null : Entry?.UndoneAt);

        public bool Counts => UndoneAt is null;
    }
}

/// <summary>What is needed to act for somebody; where <see cref="Refused"/> says why not, nothing else is there.</summary>
internal sealed class DeedDesk : IAsyncDisposable
{
    public DeedSight? Refused { get; init; }

    public DeedLink Link { get; init; } = null!;

    /// <summary>What is kept of the link.</summary>
    public string Nonce { get; init; } = "";

    public Person Person { get; init; } = null!;

    public FruitWatchStore Store { get; init; } = null!;

    public BedAccess Access { get; init; } = null!;

    public LogBook Log { get; init; } = null!;

    public ValueTask DisposeAsync() => Store?.DisposeAsync() ?? ValueTask.CompletedTask;
}
