using System.Globalization;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using MimeKit;

namespace FruitWatch.Service.Tests.Seattle;

/// <summary>All that a run left behind.</summary>
internal sealed record SeattleHistory(
    IReadOnlyList<IssuedNotice> Notices,
    IReadOnlyList<Bed> Beds,
    IReadOnlyList<LogEntry> Log,
    IReadOnlyList<OutgoingMail> Outbox,
    IReadOnlyList<DigestNotice> Told,
    IReadOnlyList<SiteMorning> Mornings,
    IReadOnlyList<WeatherRecord> Weather,
    IReadOnlyList<MimeMessage> Received)
{
    public static async Task<SeattleHistory> OfAsync(SeattleRun run)
    {
        await using FruitWatchStore store = run.Stores.CreateDbContext();
        return new SeattleHistory(
            await store.Notices.AsNoTracking().OrderBy(n => n.Id).ToListAsync(),
            await store.Beds.AsNoTracking().Include(b => b.Layers).OrderBy(b => b.Id).ToListAsync(),
            await store.LogEntries.AsNoTracking().OrderBy(e => e.Id).ToListAsync(),
            await store.Outbox.AsNoTracking().OrderBy(m => m.Id).ToListAsync(),
            await store.DigestNotices.AsNoTracking().OrderBy(d => d.MailId).ThenBy(d => d.NoticeId).ToListAsync(),
            await store.Mornings.AsNoTracking().OrderBy(m => m.On).ToListAsync(),
            await store.Weather.AsNoTracking().OrderBy(w => w.Date).ToListAsync(),
            [.. run.Mailbox.Taken]);
    }

    /// <summary>A notice as a line: what was told and what became of it.</summary>
    public string Line(IssuedNotice notice) => string.Create(
        CultureInfo.InvariantCulture,
        $"{notice.FirstOn:uuuu-MM-dd} | {Beds.Single(b => b.Id == notice.BedId).Name,-9} | {notice.Kind,-14} | {notice.Day:MM-dd} | {notice.Deadline:MM-dd} | "
        + $"{notice.Amount,5} | {notice.State.ToString().ToLowerInvariant(),-9} | {notice.ClosedOn?.ToString("MM-dd", CultureInfo.InvariantCulture) ?? "",-5} | {notice.ClosedWhy}").TrimEnd();
}
