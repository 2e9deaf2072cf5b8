using System.ComponentModel;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Sites;

/// <summary>A site as the API gives it.</summary>
[Description("A place with one weather: all its beds share feed, zone and morning.")]
internal sealed record SiteBody(
    [property: Description("Key.")] long Id,
    [property: Description("Whose it is.")] long CooperativeId,
    [property: Description("What its growers call it.")] string Name,
    [property: Description("Degrees, north positive.")] double LatitudeDeg,
    [property: Description("Degrees, east positive.")] double LongitudeDeg,
    [property: Description("Above sea level, in metres.")] double ElevationM,
    [property: Description("Time zone by its IANA name; decides what a day is here.")] string ZoneId,
    [property: Description("Near a large body of water.")] bool Coastal,
    [property: Description("Local time from which the morning round is due.")] LocalTime MorningAt,
    [property: Description("Feed of the days to come.")] long? ForecastFeedId,
    [property: Description("Archive of the days gone by; null where station or forecast feed give them.")] long? HistoryFeedId,
    [property: Description("Feed of a station near by that measures the days gone by; null where there is none. Trusted before historyFeedId.")] long? StationFeedId,
    [property: Description("The station's identifier in the list of the feed that is asked by station; null where none is.")] string? Station)
{
    public static SiteBody Of(Site row) => new(
        row.Id,
        row.CooperativeId,
        row.Name,
        row.Latitude,
        row.Longitude,
        row.Elevation,
        row.ZoneId,
        row.Coastal,
        row.MorningAt,
        row.ForecastFeedId,
        row.HistoryFeedId,
        row.StationFeedId,
        row.Station);
}

/// <summary>A site as it is sent.</summary>
[Description("A site as it is made or changed. A change names all fields: what is left out goes back to its default.")]
internal sealed record SiteChange(
    [property: Description("Whose it is; may be left out where there is one cooperative. Cannot be changed.")] long? CooperativeId,
    [property: Description("What its growers call it, 1 to 80 characters.")] string Name,
    [property: Description("-90 to 90, north positive.")] double LatitudeDeg,
    [property: Description("-180 to 180, east positive.")] double LongitudeDeg,
    [property: Description("-430 to 6000 m; 0 where left out.")] double? ElevationM,
    [property: Description("IANA name such as Europe/Madrid.")] string ZoneId,
    [property: Description("false where left out.")] bool? Coastal,
    [property: Description("06:00 where left out.")] LocalTime? MorningAt,
    [property: Description("Key of a feed of the cooperative.")] long? ForecastFeedId,
    [property: Description("Key of a feed of the cooperative.")] long? HistoryFeedId,
    [property: Description("Key of a feed of the cooperative.")] long? StationFeedId,
    [property: Description("The station's identifier, up to 80 characters; required where a feed is asked by station.")] string? Station) : IReadBody<SiteChange>
{
    public static SiteChange Read(JsonFields fields) => Of(fields);

    public static SiteChange Of(IFields fields)
    {
        var change = new SiteChange(
            fields.Id("cooperativeId"),
            fields.Line("name", 80, required: true) ?? "",
            fields.Number("latitudeDeg", -90, 90, required: true) ?? 0,
            fields.Number("longitudeDeg", -180, 180, required: true) ?? 0,
            fields.Number("elevationM", -430, 6000),
            fields.Text("zoneId", 64, required: true) ?? "",
            fields.YesNo("coastal"),
            fields.Time("morningAt"),
            fields.Id("forecastFeedId"),
            fields.Id("historyFeedId"),
            fields.Id("stationFeedId"),
            fields.Text("station", 80) is { Length: > 0 } station ? station : null);
        if (change.ZoneId.Length > 0 && DateTimeZoneProviders.Tzdb.GetZoneOrNull(change.ZoneId) is null)
            fields.Refuse("zoneId", words => words.FieldsZone);
        return change;
    }

    public void Put(Site row)
    {
        row.Name = Name;
        row.Latitude = LatitudeDeg;
        row.Longitude = LongitudeDeg;
        row.Elevation = ElevationM ?? 0;
        row.ZoneId = ZoneId;
        row.Coastal = Coastal ?? false;
        row.MorningAt = MorningAt ?? new LocalTime(6, 0);
        row.ForecastFeedId = ForecastFeedId;
        row.HistoryFeedId = HistoryFeedId;
        row.StationFeedId = StationFeedId;
        row.Station = Station;
    }
}
