using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Notices;
using FruitWatch.Store.Entities;
using NodaTime;
using static FruitWatch.Model.Notices.ReasonNumber;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>Mornings of an invented cooperative. The lookalikes are shortened here, so that a change of the catalogue is not one of these mails.</summary>
internal static class Mornings
{
    public static readonly LocalDate Today = new(2026, 10, 5);
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Madrid"];
    private static readonly Instant s_now = new LocalDateTime(2026, 10, 5, 6, 5).InZoneLeniently(Zone).ToInstant();

    public static Species WineCap { get; } = BedCatalogue.BuiltIn.Species["wine-cap"] with
    {
        Names = new Dictionary<string, string> { ["es"] = "Estrofaria" },
        Lookalikes =
        [
            Fungus("Funeral bell (Galerina marginata)", "Deadly.", "Rusty-brown spore print, small thin cap.",
                "Galerina rebordeada (Galerina marginata)", "Mortal.", "Esporada de color óxido, sombrero pequeño y fino."),
            Fungus("Yellow-staining mushroom (Agaricus xanthodermus)", "Vomiting and cramps.", "Yellows at once when rubbed, smells of ink.",
                "Champiñón amarilleante (Agaricus xanthodermus)", "Vómitos y cólicos.", "Amarillea al frotarlo, huele a tinta."),
        ],
        Cautions = [],
    };

    public static Species ColdOyster { get; } = BedCatalogue.BuiltIn.Species["oyster-cold"] with
    {
        Names = new Dictionary<string, string> { ["es"] = "Seta de ostra de frío" },
        Lookalikes =
        [
            Fungus("Angel wings (Pleurocybella porrigens)", "Deadly to some.", "Pure white, thin, on conifer wood.",
                "Alas de ángel (Pleurocybella porrigens)", "Mortal para algunas personas.", "Blanca pura, fina, sobre madera de coníferas."),
        ],
        Cautions = [],
    };

    /// <summary>Two sites, eight notices of every role.</summary>
    public static Digest Busy(string language) => new(
        Ana(language),
        Today,
        "Alder Lane growers",
        [
            Site("Alder Lane", Fresh,
            [
                Bed(11, "Water Path bed", WineCap, State(Phase.SpawnRun, LimitingFactor.Moisture, pin: 0.8, moist: 0.35, moisture: 0.31), New(
                    NoticeKind.Water, 0, 1, NoticeConfidence.Firm, ReasonCode.WaterLow, 25, (Moisture, 0.28), (WaterMark, 0.45), (RainToCome, 1.2), (Days, 3))),
                Bed(12, "Orchard 2", WineCap, State(Phase.Pinning, LimitingFactor.Temperature, pin: 0.92, moist: 1, moisture: 0.74), New(
                    NoticeKind.ExpectPins, 4, 7, NoticeConfidence.Likely, ReasonCode.PinsAhead, null, (EarlyDays, 2), (LateDays, 3), (Days, 4))),
                Bed(13, "Oak 3", ColdOyster, State(Phase.Growing, LimitingFactor.Humidity, pin: 1, moist: 0.9, moisture: 0.66, humidity: 0.7),
                    Urgent(New(NoticeKind.FrostAhead, 1, 0, NoticeConfidence.Firm, ReasonCode.FrostThreatens, null, (GroundMin, -3.4), (FrostMark, -2), (Covered, 0))),
                    New(NoticeKind.ExpectHarvest, 6, 9, NoticeConfidence.Possible, ReasonCode.HarvestAhead, null, (EarlyDays, 2), (LateDays, 3), (Days, 6))),
                Bed(14, "Hedge row", WineCap, State(Phase.Ready, LimitingFactor.Soak, pin: 0.95, moist: 1, moisture: 0.83), Role(DigestRole.Changed, New(
                    NoticeKind.CoverOff, 0, 2, NoticeConfidence.Likely, ReasonCode.RainForDryBed, null, (Moisture, 0.4), (WaterMark, 0.45), (RainToCome, 14), (Days, 2)))),
            ]),
            Site("Mill Field", Fresh,
            [
                Bed(21, "Straw bales", ColdOyster, State(Phase.Resting, LimitingFactor.Temperature, pin: 0.4, moist: 1, moisture: 1.04), Open(
                    New(NoticeKind.WeeklyCheck, -2, -1, NoticeConfidence.Firm, ReasonCode.NothingLogged, null, (Days, 9)))),
                Bed(22, "Compost corner", WineCap, State(Phase.Pinning, LimitingFactor.Moisture, pin: 1, moist: 0.2, moisture: 1.1), New(
                    NoticeKind.HoldWater, 0, 3, NoticeConfidence.Firm, ReasonCode.AirLow, null, (Air, 0.07), (AirMark, 0.1), (RainToCome, 22), (Days, 4)),
                    Open(New(NoticeKind.ExpectPins, 2, 5, NoticeConfidence.Likely, ReasonCode.PinsAhead, null, (EarlyDays, 1), (LateDays, 3), (Days, 2)))),
                Bed(23, "New bed", WineCap, null),
            ]),
        ],
        Late: false)
    {
        BaseUrl = new Uri("https://beds.alder.invalid/"),
    };

    /// <summary>Nothing new, nothing open.</summary>
    public static Digest Quiet(string language = "en") => Busy(language) with
    {
        Sites = [Site("Alder Lane", Fresh, [.. Busy(language).Sites[0].Beds.Select(bed => bed with { Items = [] })])],
    };

    /// <summary>An old forecast, one notice still open, two taken back; after the morning.</summary>
    public static Digest Stale(string language = "en") => Busy(language) with
    {
        Late = true,
        Sites =
        [
            Site("Alder Lane", new ForecastInUse(7, "Open weather", s_now - Duration.FromHours(52), Duration.FromHours(52)),
            [
                Bed(11, "Water Path bed", WineCap, State(Phase.SpawnRun, LimitingFactor.Moisture, pin: 0.8, moist: 0.6, moisture: 0.5), Withdrawn(
                    ClosingCode.RainCame,
                    New(NoticeKind.Water, -1, 0, NoticeConfidence.Firm, ReasonCode.WaterLow, 25, (Moisture, 0.28), (WaterMark, 0.45), (RainToCome, 1.2), (Days, 3)))),
                Bed(12, "Orchard 2", WineCap, State(Phase.Pinning, LimitingFactor.Temperature, pin: 0.5, moist: 1, moisture: 0.74), Withdrawn(
                    ClosingCode.ForecastChanged,
                    New(NoticeKind.ExpectPins, 4, 7, NoticeConfidence.Likely, ReasonCode.PinsAhead, null, (EarlyDays, 2), (LateDays, 3), (Days, 4)))),
                Bed(14, "Hedge row", WineCap, State(Phase.Ready, LimitingFactor.Soak, pin: 0.95, moist: 1, moisture: 0.83), Open(
                    New(NoticeKind.CoverOff, -1, 1, NoticeConfidence.Likely, ReasonCode.ReadyToPin, null, (Days, 0)))),
            ]),
        ],
    };

    public static Person Ana(string language) => new() { Name = "Ana Ruiz", Email = "ana@growers.invalid", Language = language };

    public static ForecastInUse Fresh => new(7, "Open weather", s_now - Duration.FromHours(3), Duration.FromHours(3));

    public static DigestSite Site(string name, ForecastInUse? forecast, IReadOnlyList<DigestBed> beds) => new(
        name,
        forecast,
        Day(0, 17.4, 8.6, 1.2),
        [Day(1, 15, 7, 0), Day(2, 12, 3.2, 8.4), Day(3, 11, -0.4, 5), Day(4, 13, 2, null), Day(5, 14, 4, 0)],
        "Weather data by an open weather service, CC BY 4.0, https://weather.invalid/terms.",
        beds)
    {
        Zone = Zone,
    };

    public static DigestBed Bed(long id, string name, Species species, AccountDay? state, params DigestItem[] items) =>
        new(id, name, species, state, state is null ? AccountProblem.NotYetMade : AccountProblem.None, items);

    public static DigestItem New(
        NoticeKind kind, int day, int deadline, NoticeConfidence confidence, ReasonCode code, double? litres, params (ReasonNumber, double)[] numbers)
    {
        var draft = new NoticeDraft(kind, Today.PlusDays(day), Today.PlusDays(deadline), confidence, NoticeReason.Of(code, numbers)) { Amount = litres };
        return new DigestItem(DigestRole.New, NoticeRows.Open(1, 1, new NoticeOpened(kind, 1, draft), Today.PlusDays(Math.Min(day, 0)), s_now));
    }

    public static DigestItem Role(DigestRole role, DigestItem item) => item with { Role = role };

    public static DigestItem Open(DigestItem item) => Role(DigestRole.Open, item);

    public static DigestItem Urgent(DigestItem item)
    {
        NoticeRows.Revise(item.Notice, NoticeRows.Draft(item.Notice) with { Urgent = true }, Today, s_now);
        return item;
    }

    public static DigestItem Withdrawn(ClosingCode why, DigestItem item)
    {
        NoticeRows.Close(item.Notice, new NoticeClosed(NoticeRows.KindOf(item.Notice.Kind), 1, NoticeEnd.Withdrawn, why), Today, s_now);
        return Role(DigestRole.Withdrawn, item);
    }

    public static AccountDay State(Phase phase, LimitingFactor limit, double pin, double moist, double moisture, double humidity = 1) => new()
    {
        Date = Today,
        Phase = phase,
        Limit = limit,
        PinFactor = pin,
        MoistureFactor = moist,
        HumidityFactor = humidity,
        Moisture = moisture,
        SpawnRun = phase == Phase.SpawnRun ? 0.45 : 1,
        Progress = phase is Phase.SpawnRun or Phase.Ready ? 0 : 0.4,
    };

    private static WeatherDay Day(int ahead, double tmax, double tmin, double? rain) =>
        new WeatherDay(Today.PlusDays(ahead), tmax, tmin, rain).From(Provenance.Forecast);

    private static Lookalike Fungus(string name, string danger, string tell, string nameEs, string dangerEs, string tellEs) => new(name, danger, tell)
    {
        In = new Dictionary<string, Lookalike> { ["es"] = new(nameEs, dangerEs, tellEs) },
    };
}
