using FruitWatch.Model.Verification;
using FruitWatch.Store;

namespace FruitWatch.Service.Verification;

/// <summary>What forecasts are taken together by.</summary>
internal enum GroupedBy
{
    /// <summary>All of a cooperative's beds.</summary>
    Cooperative,

    /// <summary>All beds of a site.</summary>
    Site,

    /// <summary>All of a cooperative's beds of a species.</summary>
    Species,

    /// <summary>One bed.</summary>
    Bed,
}

/// <summary>Kept forecasts that are taken together, and how good they were.</summary>
/// <param name="By">By what.</param>
/// <param name="CooperativeId">Whose.</param>
/// <param name="Key">Key of what they share, within <paramref name="By"/>.</param>
/// <param name="Name">Its name; a species' key, which the words know the name of.</param>
/// <param name="Fates">How many of them had each fate.</param>
/// <param name="Scores">Scores of those answered.</param>
internal sealed record ForecastGroup(
    GroupedBy By, long CooperativeId, string Key, string Name, IReadOnlyDictionary<ForecastFate, int> Fates, PinsScores Scores)
{
    /// <summary>All kept.</summary>
    public int Issued => Fates.Values.Sum();

    public int Of(ForecastFate fate) => Fates.GetValueOrDefault(fate);
}

/// <summary>How good the kept forecasts of pins were: by cooperative, site, species and bed.</summary>
internal sealed record ForecastReport(int Lead, IReadOnlyList<ForecastGroup> Groups)
{
    /// <summary>Lead where nothing else is asked for. [d]</summary>
    public const int UsualLead = 7;

    /// <summary>Leads that can be asked for. [d]</summary>
    public static IReadOnlyList<int> Leads { get; } = [3, 7, 14, 30];

    public IEnumerable<ForecastGroup> By(GroupedBy by) => Groups.Where(group => group.By == by);

    public static async Task<ForecastReport> MakeAsync(FruitWatchStore store, ForecastsAsked asked, int lead, CancellationToken stop)
    {
        var forecasts = (await KeptForecasts.LoadAsync(store, asked, lead, stop))
            .Where(forecast => asked.BedId is null || forecast.Bed.Id == asked.BedId).ToList();
        return new ForecastReport(
            lead,
            [
                .. Group(forecasts, GroupedBy.Cooperative, bed => (bed.CooperativeId, Text(bed.CooperativeId), bed.CooperativeName)),
                .. Group(forecasts, GroupedBy.Site, bed => (bed.CooperativeId, Text(bed.SiteId), bed.SiteName)),
                .. Group(forecasts, GroupedBy.Species, bed => (bed.CooperativeId, bed.SpeciesKey, bed.SpeciesKey)),
                .. Group(forecasts, GroupedBy.Bed, bed => (bed.CooperativeId, Text(bed.Id), bed.Name)),
            ]);
    }

    private static IEnumerable<ForecastGroup> Group(
        List<LookedBack> forecasts, GroupedBy by, Func<LookedBackBed, (long Cooperative, string Key, string Name)> key) => forecasts
        .GroupBy(forecast => key(forecast.Bed))
        .Select(group => new ForecastGroup(
            by,
            group.Key.Cooperative,
            group.Key.Key,
            group.Key.Name,
            group.CountBy(forecast => forecast.Fate).ToDictionary(),
            PinsScores.Of([.. group.Select(forecast => forecast.Case).OfType<PinsCase>()])));

    private static string Text(long id) => FormattableString.Invariant($"{id}");
}
