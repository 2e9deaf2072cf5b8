namespace FruitWatch.Service.Text;

// Forms in which sites and beds are made and changed.
internal abstract partial class Words
{
    /// <summary>What has to be known before a bed is filled; see docs/safety.md.</summary>
    public abstract IReadOnlyList<string> BedCautionsSaid { get; }

    public abstract string SiteNew { get; }

    public abstract string SiteEdit { get; }

    public abstract string SiteName { get; }

    public abstract string SiteLatitude { get; }

    public abstract string SiteLatitudeHint { get; }

    public abstract string SiteLongitude { get; }

    public abstract string SiteLongitudeHint { get; }

    public abstract string SiteElevation { get; }

    public abstract string SiteElevationHint { get; }

    public abstract string SiteCoastal { get; }

    public abstract string SiteCoastalHint { get; }

    public abstract string SiteZoneHint { get; }

    public abstract string SiteMorning { get; }

    public abstract string SiteMorningHint { get; }

    public abstract string SiteFeeds { get; }

    public abstract string SiteFeedsLater { get; }

    public abstract string SiteFeedsHint { get; }

    public abstract string SiteNoFeed { get; }

    public abstract string SiteForecastFeed { get; }

    public abstract string SiteStationFeed { get; }

    public abstract string SiteHistoryFeed { get; }

    public abstract string SiteStation { get; }

    public abstract string SiteStationHint { get; }

    public abstract string SiteOtherCooperative { get; }

    public abstract string SiteNoSuchFeed { get; }

    public abstract string SiteNeedsStation(string feed);

    public abstract string FirstSteps { get; }

    public abstract string FirstSite { get; }

    public abstract string FirstFeed { get; }

    public abstract string FirstBed { get; }

    public abstract string NoSitesForYou { get; }

    public abstract string BedNew { get; }

    public abstract string BedEdit { get; }

    public abstract string BedChoose { get; }

    public abstract string BedNothing { get; }

    public abstract string BedName { get; }

    public abstract string BedSpecies { get; }

    public abstract string BedArea { get; }

    public abstract string BedInoculated { get; }

    public abstract string BedLayers { get; }

    public abstract string BedLayersHint { get; }

    public abstract string BedLayer(int number);

    public abstract string BedDepth { get; }

    public abstract string BedLaidOn { get; }

    public abstract string BedShadeHint { get; }

    public abstract string BedCover { get; }

    public abstract string BedMore { get; }

    public abstract string BedThroughfall { get; }

    public abstract string BedThroughfallHint { get; }

    public abstract string BedWetness { get; }

    public abstract string BedWetnessHint { get; }

    public abstract string BedSpawn { get; }

    public abstract string BedSpawnHint { get; }

    public abstract string BedRunOn { get; }

    public abstract string BedRunOnHint { get; }

    public abstract string BedSunOffset { get; }

    public abstract string BedSunOffsetHint { get; }

    public abstract string BedRetired { get; }

    public abstract string BedRetiredHint { get; }

    public abstract string BedStays { get; }

    public abstract string BedNoSuchSite { get; }

    public abstract string BedLoggedBefore { get; }

    public abstract string BedRetiredBefore { get; }

    public abstract string BedMulchOfWhat { get; }

    public abstract string BedLaidLater { get; }

    public abstract string BedCautions { get; }
}
