using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Queries;

/// <summary>A site with all that a round needs to know of it but the weather.</summary>
/// <param name="Site">The site.</param>
/// <param name="Beds">Its beds that are watched, in order of their keys.</param>
public sealed record SiteData(Site Site, IReadOnlyList<BedData> Beds)
{
    /// <summary>Sites by their keys, in that order. Four queries, however many sites and beds. Nothing is tracked.</summary>
    /// <param name="store">Where from.</param>
    /// <param name="siteIds">Which; a key that is not there is left out.</param>
    /// <param name="cancellationToken">Stops it.</param>
    public static async Task<IReadOnlyList<SiteData>> LoadAsync(
        FruitWatchStore store, IReadOnlyCollection<long> siteIds, CancellationToken cancellationToken = default)
    {
        var wanted = siteIds.ToArray();
        var sites = await store.Sites.AsNoTracking()
            .Where(site => EF.Parameter(wanted).Contains(site.Id))
            .OrderBy(site => site.Id).ToListAsync(cancellationToken);
        var watched = store.Beds.Where(bed => EF.Parameter(wanted).Contains(bed.SiteId) && bed.RetiredOn == null);
        var beds = await watched.AsNoTracking().OrderBy(bed => bed.Id).ToListAsync(cancellationToken);
        var layers = await store.BedLayers.AsNoTracking()
            .Where(layer => watched.Any(bed => bed.Id == layer.BedId))
            .OrderBy(layer => layer.Id).ToListAsync(cancellationToken);
        var log = await store.LogEntries.AsNoTracking()
            .Where(entry => entry.UndoneAt == null && watched.Any(bed => bed.Id == entry.BedId))
            .OrderBy(entry => entry.On).ThenBy(entry => entry.At).ThenBy(entry => entry.Id).ToListAsync(cancellationToken);

        var layersOf = layers.ToLookup(layer => layer.BedId);
        var logOf = log.ToLookup(entry => entry.BedId);
        foreach (var bed in beds) bed.Layers.AddRange(layersOf[bed.Id]);
        var bedsOf = beds.ToLookup(bed => bed.SiteId, bed => new BedData(bed, logOf[bed.Id].ToList()));
        return sites.ConvertAll(site => new SiteData(site, bedsOf[site.Id].ToList()));
    }
}

/// <summary>A bed with its layers and its log.</summary>
/// <param name="Bed">The bed, layers included.</param>
/// <param name="Log">Entries that count, in the order in which they act: by day, time of day, and order of recording.</param>
public sealed record BedData(Bed Bed, IReadOnlyList<LogEntry> Log);
