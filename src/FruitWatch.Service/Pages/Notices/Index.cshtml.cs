using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Access;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Notices;

/// <summary>All that was told, the last first.</summary>
[Right(Right.ReadBeds)]
internal sealed class IndexModel(FruitWatchStore store, BedCatalogue catalogue) : PageModel
{
    private const int Most = 50;

    public static IReadOnlyList<NoticeState> States { get; } = Enum.GetValues<NoticeState>();

    /// <summary>Only those that stand so; null for all.</summary>
    public NoticeState? State { get; private set; }

    public IReadOnlyList<NoticeTold> Told { get; private set; } = [];

    /// <summary>Key before which older ones are found; null where there are none.</summary>
    public long? Older { get; private set; }

    /// <summary>Species of whose pins or harvest the page speaks.</summary>
    public IEnumerable<Species> ToBeKnown =>
        Told.Where(told => told.Draft.NeedsEatingCaution && told.Species is not null).Select(told => told.Species!).Distinct();

    public async Task OnGetAsync(string? state, long? before, CancellationToken stop)
    {
        State = States.Cast<NoticeState?>().FirstOrDefault(known => ApiJson.WordOf(known!.Value) == state);
        var limit = before ?? long.MaxValue;
        var notices = store.Notices.AsNoTracking().Where(notice => notice.Id < limit);
        if (State is { } wanted)
            notices = notices.Where(notice => notice.State == wanted);
        var rows = await notices.OrderByDescending(notice => notice.Id).Take(Most + 1).ToListAsync(stop);
        var beds = await store.Beds.AsNoTracking().ToDictionaryAsync(bed => bed.Id, stop);
        var sites = await store.Sites.AsNoTracking().ToDictionaryAsync(site => site.Id, site => site.Name, stop);
        Told =
        [
            .. rows.Take(Most).Select(row => new NoticeTold(
                row,
                NoticeRows.Draft(row),
                sites[row.SiteId],
                row.BedId is { } id ? beds[id] : null,
                row.BedId is { } bed ? catalogue.Species.GetValueOrDefault(beds[bed].SpeciesKey) : null)),
        ];
        Older = rows.Count > Most ? rows[Most - 1].Id : null;
    }
}

/// <summary>A notice in the list of all.</summary>
internal sealed record NoticeTold(IssuedNotice Row, NoticeDraft Draft, string SiteName, Bed? Bed, Species? Species);
