using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Notices;

/// <summary>
/// Holds a site's notices against its books, and writes down what opened, changed and ended, and what programs are told of it; the
/// caller holds the transaction.
/// </summary>
internal static class NoticeRound
{
    /// <summary>Reconciles the notices of all beds of a site.</summary>
    /// <param name="store">Where they are kept.</param>
    /// <param name="site">The site's books.</param>
    /// <param name="mornings">The mornings of its beds.</param>
    /// <param name="now">The moment that is written down.</param>
    /// <param name="stop">Stops it.</param>
    /// <param name="scope">What may change at this hour; the rest waits for the morning.</param>
    public static async Task<(int Opened, int Closed)> ReconcileAsync(
        FruitWatchStore store,
        SiteBook site,
        IReadOnlyDictionary<long, BedMorning> mornings,
        Instant now,
        CancellationToken stop,
        NoticeScope scope = NoticeScope.Morning)
    {
        // All that are open, and of each bed and kind the last one that ended: enough to go on counting and not to repeat.
        var rows = await store.Notices
            .Where(n => n.SiteId == site.Row.Id
                && (n.State == NoticeState.Open
                    || !store.Notices.Any(later => later.BedId == n.BedId && later.Kind == n.Kind && later.Episode > n.Episode)))
            .ToListAsync(stop);
        var byBed = rows.ToLookup(n => n.BedId);
        var told = new List<(string Event, IssuedNotice Row)>();
        foreach (var bed in site.Beds.Where(b => mornings.ContainsKey(b.Row.Id)))
        {
            var kept = byBed[bed.Row.Id].ToDictionary(n => n.Id);
            var outcomes = NoticeBook.Reconcile(
                mornings[bed.Row.Id],
                [.. kept.Values.Where(n => n.State == NoticeState.Open).Select(NoticeRows.ToOpen)],
                [.. kept.Values.Where(n => n.State != NoticeState.Open).Select(NoticeRows.ToClosed)]);
            foreach (var outcome in outcomes.Where(o => IsWithin(scope, o, kept)))
            {
                switch (outcome)
                {
                    case NoticeOpened o:
                        told.Add((WebhookEvents.NoticeOpened, store.Notices.Add(NoticeRows.Open(site.Row.Id, bed.Row.Id, o, site.Today, now)).Entity));
                        break;
                    case NoticeRevised r:
                        NoticeRows.Revise(kept[r.Id], r.Draft, site.Today, now);
                        told.Add((WebhookEvents.NoticeChanged, kept[r.Id]));
                        break;
                    case NoticeKept k:
                        kept[k.Id].ConfirmedOn = site.Today;
                        break;
                    case NoticeClosed c:
                        NoticeRows.Close(kept[c.Id], c, site.Today, now);
                        told.Add((WebhookEvents.NoticeClosed, kept[c.Id]));
                        break;
                }
            }
        }

        // Of a bed that was given up nothing more is said.
        foreach (var left in scope == NoticeScope.Morning ? rows.Where(n => n.State == NoticeState.Open && n.BedId is { } key && !site.Beds.Any(bed => bed.Row.Id == key)) : [])
        {
            NoticeRows.Close(left, new NoticeClosed(NoticeRows.KindOf(left.Kind), left.Id, NoticeEnd.Withdrawn, ClosingCode.BedSpent), site.Today, now);
            told.Add((WebhookEvents.NoticeClosed, left));
        }

        await store.SaveChangesAsync(stop);
        await WebhookEvents.AddAsync(store, now, site.Row.CooperativeId, [.. told.Select(one => Happened(one.Event, one.Row))], stop);
        return (told.Count(one => one.Event == WebhookEvents.NoticeOpened), told.Count(one => one.Event == WebhookEvents.NoticeClosed));
    }

    private static bool IsWithin(NoticeScope scope, NoticeOutcome outcome, Dictionary<long, IssuedNotice> kept) => scope switch
    {
        NoticeScope.Done => outcome is NoticeClosed { How: NoticeEnd.Done },
        NoticeScope.Urgent => outcome switch
        {
            NoticeOpened opened => opened.Draft.Urgent,
            NoticeRevised revised => revised.Draft.Urgent,
            // What was never urgent is taken back in the morning.
            NoticeClosed closed => closed.How == NoticeEnd.Done || NoticeRows.Draft(kept[closed.Id]).Urgent,
            _ => false,
        },
        _ => true,
    };

    private static Happening Happened(string what, IssuedNotice row) =>
        new(what, FormattableString.Invariant($"{row.Id}/{row.Version}"), FormattableString.Invariant($"notices/{row.Id}"))
        { SiteId = row.SiteId, BedId = row.BedId, NoticeId = row.Id };
}

/// <summary>What may change about the notices of a site.</summary>
internal enum NoticeScope
{
    /// <summary>Everything: the morning round.</summary>
    Morning,

    /// <summary>After an entry in the log: what was asked and is done ends.</summary>
    Done,

    /// <summary>After a newer forecast: what cannot wait opens, changes and ends.</summary>
    Urgent,
}
