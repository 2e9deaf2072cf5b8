using System.Globalization;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Wishes;

/// <summary>A bed that somebody can be told of or not, at a site that they are told about.</summary>
/// <param name="Id">Key.</param>
/// <param name="Name">Its name.</param>
/// <param name="SiteId">Where it lies.</param>
/// <param name="SiteName">What the site is called.</param>
/// <param name="Told">They have not left it out.</param>
internal sealed record BedChoice(long Id, string Name, long SiteId, string SiteName, bool Told)
{
    /// <summary>All that there are for a person, in one query: beds that the store shows and that are not given up.</summary>
    public static async Task<IReadOnlyList<BedChoice>> OfAsync(FruitWatchStore store, long personId, CancellationToken stop) => await (
        from bed in store.Beds.AsNoTracking()
        join site in store.Sites on bed.SiteId equals site.Id
        where bed.RetiredOn == null && store.PersonSites.Any(told => told.PersonId == personId && told.SiteId == site.Id)
        orderby site.Name, site.Id, bed.Name, bed.Id
        select new BedChoice(
            bed.Id, bed.Name, site.Id, site.Name, !store.PersonBedsLeftOut.Any(left => left.PersonId == personId && left.BedId == bed.Id))).ToListAsync(stop);
}

/// <summary>
/// Beds in a form, where those are ticked that somebody is told of. It names all that it shows, so that a bed that was added since is
/// not taken for one that was not ticked.
/// </summary>
internal static class BedTicks
{
    public const string Field = "beds";

    public const string ShownField = "bedsShown";

    /// <summary>Where a problem is noted.</summary>
    public const string ProblemField = "bedsLeftOut";

    public static string KeyOf(long bed) => bed.ToString(CultureInfo.InvariantCulture);

    public static string Shown(IEnumerable<BedChoice> beds) => string.Join(' ', beds.Select(bed => KeyOf(bed.Id)));

    /// <summary>The beds that stood in it.</summary>
    public static IReadOnlySet<long> Shown(FormFields form) => form[ShownField].Split(' ', StringSplitOptions.RemoveEmptyEntries)
        .Select(text => long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var bed) ? bed : 0).Where(bed => bed > 0).ToHashSet();

    /// <summary>Those of them that are not ticked.</summary>
    public static IReadOnlyList<long> LeftOut(FormFields form) => [.. Shown(form).Where(bed => !form.Holds(Field, KeyOf(bed)))];
}
