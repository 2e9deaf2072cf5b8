using System.Collections.Concurrent;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Beds;

namespace FruitWatch.Service.Outlooks;

/// <summary>Looks at beds in all futures of their site.</summary>
internal static class BedOutlooks
{
    /// <summary>The outlook of one bed with both courses of action, ranges by day and water by week; null where there is none.</summary>
    public static BedOutlook? Of(SiteBook site, BedBook bed)
    {
        if (!HasOutlook(site, bed) || site.Futures is not { } futures)
            return null;
        return Of(new OutlookRun(futures.Forcing), site, bed, Morning(site, bed), fans: true, water: true);
    }

    /// <summary>
    /// The mornings of a site's beds, by bed: what the notices go by, each with its outlook where there is one. Beds are shared out among
    /// the cores; each core goes through the same futures.
    /// </summary>
    public static IReadOnlyDictionary<long, BedMorning> Mornings(SiteBook site)
    {
        var beds = site.Beds.Where(b => b.Account is not null && b.Bed.Inoculated <= site.Today).ToList();
        if (site.Futures is not { } futures)
            return beds.ToDictionary(b => b.Row.Id, b => Morning(site, b));

        var mornings = new ConcurrentDictionary<long, BedMorning>();
        Parallel.ForEach(
            beds,
            () => new OutlookRun(futures.Forcing),
            (bed, _, run) =>
            {
                var morning = Morning(site, bed);
                mornings[bed.Row.Id] = HasOutlook(site, bed)
                    ? Morning(site, bed, Of(run, site, bed, morning, fans: false, water: false))
                    : morning;
                return run;
            },
            _ => { });
        return mornings;
    }

    private static bool HasOutlook(SiteBook site, BedBook bed) =>
        bed.Standing is not null && bed.Bed.Inoculated <= site.Today && site.LastDay >= site.Today.PlusDays(-1);

    private static BedMorning Morning(SiteBook site, BedBook bed, BedOutlook? outlook = null) =>
        new(bed.Account!, site.Today, site.Weather, bed.Log)
        {
            ForecastAge = site.Forecast is { } forecast ? (int)forecast.Age.TotalDays : 0,
            Outlook = outlook,
        };

    private static BedOutlook Of(OutlookRun run, SiteBook site, BedBook bed, BedMorning morning, bool fans, bool water)
    {
        // What is advised is asked about: the amount of the water notice, the cover the other way round.
        var litres = WaterRule.ByTheCan(WaterRule.Refill(morning));
        var cover = morning.Cover == Cover.None ? Cover.Sheet : Cover.None;
        return run.Of(
            bed.Bed, bed.Log, bed.Standing!, Lanes(bed.Standing!.Futures, run.Members), BedCatalogue.BuiltIn,
            new OutlookQuestion(litres / bed.Bed.Area, cover, fans, water) { Awaited = morning.Awaited });
    }

    /// <summary>As many members as the weather has, from as many as the bed stands in, each the same number of times as far as that goes.</summary>
    private static int[] Lanes(int standing, int members) =>
        [.. Enumerable.Range(0, members).Select(member => (int)((long)member * standing / members))];
}
