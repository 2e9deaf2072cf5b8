using FruitWatch.Model.Beds;
using FruitWatch.Model.Weather;
using FruitWatch.Store.Entities;
using NodaTime;
using Bed = FruitWatch.Store.Entities.Bed;
using LogEntry = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Store.Tests;

/// <summary>Rows of an invented cooperative, with every field set to something that is not its default.</summary>
internal static class AlderLane
{
    /// <summary>The finest moment that both databases keep.</summary>
    public static readonly Instant Odd = Instant.FromUtc(1969, 12, 31, 23, 59, 59).PlusNanoseconds(999_999_000);

    public static readonly LocalDate LeapDay = new(2024, 2, 29);

    public static async Task<(Cooperative Cooperative, Feed Feed, Site Site, Bed Bed)> FoundAsync(FruitWatchStore store)
    {
        var cooperative = new Cooperative { Name = "Alder Lane growers", GrowersReadAll = true };
        store.Add(cooperative);
        await store.SaveChangesAsync();
        var feed = Feed(cooperative.Id);
        store.Add(feed);
        await store.SaveChangesAsync();
        var site = Site(cooperative.Id, feed.Id);
        store.Add(site);
        await store.SaveChangesAsync();
        var bed = Bed(site.Id, "Oak 3");
        bed.Layers.Add(new BedLayer { MaterialKey = "hardwood-chips", Depth = 0.15, LaidOn = LeapDay });
        store.Add(bed);
        await store.SaveChangesAsync();
        return (cooperative, feed, site, bed);
    }

    public static Feed Feed(long cooperativeId, string key = "open-weather") => new()
    {
        CooperativeId = cooperativeId,
        Key = key,
        Title = "Open weather",
        Description = """{"format":"weather-feed/1"}""",
        SealedKey = "sealed",
    };

    public static Site Site(long cooperativeId, long feedId) => new()
    {
        CooperativeId = cooperativeId,
        Name = "Alder Lane, Ñandú 北",
        Latitude = -33.123456789012345,
        Longitude = -70.5,
        Elevation = 512.25,
        ZoneId = "America/Santiago",
        Coastal = true,
        MorningAt = new LocalTime(23, 59, 59).PlusNanoseconds(999_999_000),
        ForecastFeedId = feedId,
        StationFeedId = feedId,
        HistoryFeedId = feedId,
        Station = "ZZ000000001",
        Renamings = 3,
        RenamedAt = Odd,
    };

    public static Bed Bed(long siteId, string name) => new()
    {
        SiteId = siteId,
        Name = name,
        SpeciesKey = "wine-cap",
        Area = 2.4,
        InoculatedOn = LeapDay,
        Shade = 0.6,
        MulchCm = 3,
        MulchMaterialKey = "straw",
        Cover = Cover.PiercedSheet,
        Wetness = 0.9,
        SpawnRate = 1.25,
        Throughfall = 0.7,
        RunOn = 1.5,
        SunOffset = 1.75,
        Renamings = 2,
        RenamedAt = Odd,
        EvaporationMultiplier = 1.1,
        GrowthMultiplier = 0.95,
    };

    public static LogEntry Entry(long bedId, LocalDate on, LocalTime at, string kind = "water-given") => new()
    {
        BedId = bedId,
        On = on,
        At = at,
        Kind = kind,
        Amount = 12.5,
        RecordedAt = Odd,
        RecordedBy = "person:1",
    };

    public static WeatherDay Day(LocalDate date, double? rain = 4.2) => new(date, 21.5, 9.25, rain)
    {
        Humidity = 71,
        DewPoint = 8.5,
        Wind = 1.75,
        Radiation = 14.5,
        FeedEvapotranspiration = 3.25,
    };

    public static ForecastIssue Forecast(long siteId, long feedId, string payload = "[[21.5,9.25,4.2]]") => new()
    {
        SiteId = siteId,
        FeedId = feedId,
        IssuedAt = Odd,
        FetchedAt = Odd + Duration.FromMinutes(7),
        FirstDay = LeapDay,
        Days = 16,
        Payload = payload,
    };

    public static IssuedNotice Notice(long siteId, long? bedId, int episode = 1) => new()
    {
        SiteId = siteId,
        BedId = bedId,
        Kind = "water",
        Episode = episode,
        FirstOn = LeapDay,
        Day = LeapDay.PlusDays(1),
        Deadline = LeapDay.PlusDays(2),
        State = NoticeState.Withdrawn,
        ClosedOn = LeapDay.PlusDays(3),
        ClosedWhy = "rain-came",
        Amount = 18,
        Confidence = "likely",
        Reason = """{"code":"dry","days":2}""",
        ConfirmedOn = LeapDay.PlusDays(1),
        IssuedAt = Odd,
        Revisions = 2,
        ClosedAt = Odd,
    };

    public static Person Person(long cooperativeId, string email = " Iris@Example.org ") => new()
    {
        CooperativeId = cooperativeId,
        Name = "Iris",
        Email = email,
        Language = "es",
        Active = true,
        Role = Role.Coordinator,
        EmailConfirmedAt = Odd,
        Units = Units.UsCustomary,
        ZoneId = "America/Santiago",
        MorningAt = new LocalTime(7, 30),
        QuietFrom = new LocalTime(21, 15),
        QuietUntil = new LocalTime(5, 45),
        Digests = DigestWish.WhenThereIsNews,
        Urgent = UrgentWish.AtAnyHour,
        KindsLeftOut = "weekly-check",
        AwayFrom = LeapDay,
        AwayUntil = LeapDay.PlusDays(9),
        MailPausedAt = Odd,
        MailPausedWhy = "5.1.1 no such mailbox",
    };

    public static OutgoingMail Mail(string key, Instant due, Instant notAfter) => new()
    {
        Key = key,
        ToName = "Iris",
        ToAddress = "iris@example.org",
        Subject = "Water Oak 3 today",
        TextBody = "Water Oak 3 today: soil 2 days dry.\n",
        HtmlBody = "<p>Water Oak 3 today: soil 2 days dry.</p>",
        MessageId = $"{key}@alder-lane.example",
        NextTryAt = due,
        NotAfter = notAfter,
        CreatedAt = due,
    };
}
