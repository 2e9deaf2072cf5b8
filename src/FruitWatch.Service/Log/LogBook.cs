using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.People;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Log;

/// <summary>
/// Makes, corrects and undoes entries in the log of a bed. Nothing is deleted, and the account is recomputed from what counts: an
/// entry undone is as if never made.
/// </summary>
internal sealed class LogBook(FruitWatchStore store, SiteBooks books, BedCatalogue catalogue, Recorders recorders, IClock clock)
{
    /// <summary>Longest note. [characters]</summary>
    public const int LongestNote = 1000;

    /// <summary>Makes an entry; with <paramref name="replaced"/> it takes the place of that one.</summary>
    /// <exception cref="LogEntryException">A value is missing, unknown or out of range, or the day cannot be.</exception>
    public async Task AddAsync(LogEntry entry, LogEntry? replaced, CancellationToken stop)
    {
        var bed = await store.Beds.AsNoTracking().SingleAsync(row => row.Id == entry.BedId, stop);
        Check(entry, bed, await TodayAsync(bed, stop));
        entry.RecordedAt = clock.GetCurrentInstant();
        // Whichever way they came: a token and a link act for somebody.
        entry.RecordedBy = recorders.Me;
        if (replaced is not null)
        {
            replaced.UndoneAt = entry.RecordedAt;
            entry.ReplacesId = replaced.Id;
        }

        await using var transaction = await store.JoinAsync(stop);
        store.LogEntries.Add(entry);
        await store.SaveChangesAsync(stop);
        await CloseWhatIsDoneAsync(bed.SiteId, stop);
        await transaction.CommitAsync(stop);
    }

    /// <summary>Takes an entry out of the account.</summary>
    public async Task UndoAsync(LogEntry entry, CancellationToken stop)
    {
        entry.UndoneAt = clock.GetCurrentInstant();
        await store.SaveChangesAsync(stop);
    }

    /// <summary>An entry of a bed that counts, to be changed; null where there is none.</summary>
    public Task<LogEntry?> FindAsync(long bedId, long entryId, CancellationToken stop) =>
        store.LogEntries.SingleOrDefaultAsync(entry => entry.Id == entryId && entry.BedId == bedId && entry.UndoneAt == null, stop);

    /// <summary>Whether there is such a bed for whoever asks.</summary>
    public Task<bool> KnowsAsync(long bedId, CancellationToken stop) => store.Beds.AnyAsync(bed => bed.Id == bedId, stop);

    /// <summary>The local day at a bed.</summary>
    public async Task<LocalDate> TodayAsync(Bed bed, CancellationToken stop)
    {
        var zone = await store.Sites.Where(site => site.Id == bed.SiteId).Select(site => site.ZoneId).SingleAsync(stop);
        return clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb[zone]).Date;
    }

    /// <summary>What a notice asked and the log now says is done does not stand open until the next morning.</summary>
    private async Task CloseWhatIsDoneAsync(long siteId, CancellationToken stop)
    {
        foreach (var site in await books.OpenAsync(store, [siteId], stop))
            await NoticeRound.ReconcileAsync(store, site, BedOutlooks.Mornings(site), clock.GetCurrentInstant(), stop, NoticeScope.Done);
    }

    private void Check(LogEntry entry, Bed bed, LocalDate today)
    {
        if (entry.On < bed.InoculatedOn)
            throw new LogEntryException("on", $"{ApiText.Day(entry.On)} lies before the inoculation on {ApiText.Day(bed.InoculatedOn)}.");
        if (entry.On > today)
            throw new LogEntryException("on", $"{ApiText.Day(entry.On)} is still to come; at the bed it is {ApiText.Day(today)}.");
        if (entry.Note is { Length: > LongestNote } note)
            throw new LogEntryException("note", string.Create(CultureInfo.InvariantCulture, $"May have {LongestNote} characters at most; it has {note.Length}."));
        // Kind before its fields: what a kind does not know of cannot be asked.
        LogKinds.ToModel(entry, bed.Area, catalogue);
        var asked = LogQuestions.Of(entry.Kind);
        Unasked("amount", entry.Amount is not null && asked.Amount is null, entry.Kind);
        Unasked("text", entry.Text is not null && asked.Choice is null, entry.Kind);
        Unasked("depth", entry.Depth is not null && asked.Depth is null, entry.Kind);
    }

    private static void Unasked(string field, bool given, string kind)
    {
        if (given)
            throw new LogEntryException(field, $"Entries of kind '{kind}' have none.");
    }
}
