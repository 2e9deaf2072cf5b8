namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override IReadOnlyList<string> BedCautionsSaid =>
    [
        "Wood: never treated, painted, composite or railway wood, nor chips from roadsides. Of straw and clippings, ask what was sprayed on them.",
        "Raw manure, livestock run-off and unfinished compost carry germs: only finished compost, and uphill of animals, septic fields and roads.",
        "Dry straw, leaves and compost give off mould dust, and some mushrooms many spores: wet them first, work upwind, wear a dust mask (FFP2 or N95); stay away with asthma or a weak immune system.",
        "Wet chips and bales are heavy: lift with two. Do the heavy work in the cool of the day, drink, and wear gloves for compost and manure.",
        "Local rules on food safety, on water use and on working open ground come first.",
    ];

    public override string SiteNew => "Make a site";

    public override string SiteEdit => "Change this site";

    public override string SiteName => "Name";

    public override string SiteLatitude => "Latitude";

    public override string SiteLatitudeHint => "North positive, such as 43.21; a map on the phone shows it.";

    public override string SiteLongitude => "Longitude";

    public override string SiteLongitudeHint => "East positive, west negative, such as -3.1.";

    public override string SiteElevation => "Height above the sea";

    public override string SiteElevationHint => "Empty: sea level.";

    public override string SiteCoastal => "Near a large body of water";

    public override string SiteCoastalHint => "There the day's range of temperature is small.";

    public override string SiteZoneHint => "Such as Europe/Madrid. It decides what a day is here.";

    public override string SiteMorning => "Morning round from";

    public override string SiteMorningHint => "The mails of the morning go out after it.";

    public override string SiteFeeds => "Weather";

    public override string SiteFeedsLater => "There is no weather feed yet: choose one after the site is saved.";

    public override string SiteFeedsHint => "From which feeds it takes its weather. Another feed can be added later.";

    public override string SiteNoFeed => "none";

    public override string SiteForecastFeed => "Days to come";

    public override string SiteStationFeed => "Days gone by, by a station near by";

    public override string SiteHistoryFeed => "Days gone by, by an archive";

    public override string SiteStation => "Identifier of the station";

    public override string SiteStationHint => "Only for a feed that is asked by station: as it stands in the provider's list.";

    public override string SiteOtherCooperative => "A site belongs to your own cooperative, and stays with it: leave this out, or name its key.";

    public override string SiteNoSuchFeed => "The cooperative has no such feed.";

    public override string SiteNeedsStation(string feed) => $"The feed '{feed}' is asked by station. Enter the station's identifier from the provider's list.";

    public override string FirstSteps => "There is no site yet. Three steps, and the first morning mail comes:";

    public override string FirstSite => "Make the first site";

    public override string FirstFeed => "Choose its weather feed";

    public override string FirstBed => "Make the first bed";

    public override string NoSitesForYou => "There is no site for you to see yet. Your coordinator can change that.";

    public override string BedNew => "Make a bed";

    public override string BedEdit => "Change this bed";

    public override string BedChoose => "Choose one";

    public override string BedNothing => "nothing";

    public override string BedName => "Name";

    public override string BedSpecies => "Species";

    public override string BedArea => "Ground that it covers";

    public override string BedInoculated => "Day the spawn goes in";

    public override string BedLayers => "Filling, the lowest layer first";

    public override string BedLayersHint => "Settled depths. Leave the rest empty. What is laid on later is an entry of the log.";

    public override string BedLayer(int number) => $"Layer {Number(number)}";

    public override string BedDepth => "Depth";

    public override string BedLaidOn => "Laid on";

    public override string BedShadeHint => "Share of the sun kept off; empty for none.";

    public override string BedCover => "Cover on that day";

    public override string BedMore => "More, where you know it";

    public override string BedThroughfall => "Rain that comes through";

    public override string BedThroughfallHint => "Under trees or eaves. Empty: all of it.";

    public override string BedWetness => "Water on that day";

    public override string BedWetnessHint => "Of what the filling holds after draining. Empty: full.";

    public override string BedSpawn => "Spawn used";

    public override string BedSpawnHint => "Empty: the species' usual rate.";

    public override string BedRunOn => "Water gathered from beside";

    public override string BedRunOnHint => "1 where the ground gathers none. Empty: 1.";

    public override string BedSunOffset => "Warming by the sun";

    public override string BedSunOffsetHint => "Over the air's mean of the day, in the open. Empty: 0.";

    public override string BedRetired => "No longer watched from";

    public override string BedRetiredHint => "Empty while it is. Its log is kept.";

    public override string BedStays => "A bed stays where it lies; make another one at the other site.";

    public override string BedNoSuchSite => "There is no such site.";

    public override string BedLoggedBefore => "The log has entries from before that day. Undo or correct them first.";

    public override string BedRetiredBefore => "Lies before the inoculation.";

    public override string BedMulchOfWhat => "Is required where there is mulch.";

    public override string BedLaidLater => "Lies after the inoculation, or too far back. Later fillings are entries of the log.";

    public override string BedCautions => "Before you fill it";
}
