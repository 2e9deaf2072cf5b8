using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Beds;

namespace FruitWatch.Service.Digests;

/// <summary>Sites as their readers are told of them.</summary>
internal static class DigestSites
{
    /// <summary>A site with the beds that the reader is told of and what is to be told of them.</summary>
    public static DigestSite Of(SiteBook site, BedCatalogue catalogue, Reader reader, ILookup<long, DigestItem> items, IReadOnlyList<string> credits) => new(
        site.Row.Name,
        site.Forecast,
        site.On(site.Today),
        [.. site.Weather.Where(d => d.Date > site.Today)],
        string.Join("; ", credits),
        [
            .. site.Beds.Where(b => reader.IsToldOfBed(b.Row.Id)).Select(b => new DigestBed(
                b.Row.Id, b.Row.Name, catalogue.Species[b.Row.SpeciesKey], b.Account?.On(site.Today), b.Problem, [.. items[b.Row.Id]])),
        ])
    {
        Zone = site.Zone,
    };
}
