using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>A bed, its log and its site, from the JSON file that docs/account-files.md describes.</summary>
/// <param name="Bed">The bed.</param>
/// <param name="Log">Its log.</param>
/// <param name="Ladder">Rule for the reference evapotranspiration, with the site's position.</param>
/// <param name="Until">Last day of the account; null for the last of the weather.</param>
/// <param name="WindHeight">Height of the wind sensor; null for 2 m. [m]</param>
internal sealed record AccountCase(Bed Bed, IReadOnlyList<LogEntry> Log, EvaporationLadder Ladder, LocalDate? Until, double? WindHeight)
{
    private static readonly Dictionary<string, bool> s_rules = new() { ["hs"] = true, ["pm"] = false };

    private static readonly Dictionary<string, Cover> s_covers = new()
    {
        ["none"] = Cover.None,
        ["sheet"] = Cover.Sheet,
        ["pierced-sheet"] = Cover.PiercedSheet,
    };

    private static readonly Dictionary<string, Squeeze> s_squeezes = new()
    {
        ["crumbles"] = Squeeze.Crumbles,
        ["right"] = Squeeze.Right,
        ["dripping"] = Squeeze.Dripping,
    };

    public static AccountCase Read(string name, string text, BedCatalogue catalogue)
    {
        var file = CaseReader.Open(name, text).Only(
            "about", "latitude", "elevation", "coastal", "et0", "wind_height_m", "bed", "inoculated", "until", "water", "covers", "events");
        var ladder = new EvaporationLadder(
            file.Member("latitude").Number(-90, 90),
            file.NumberOr("elevation", -430, 9000, 0),
            file.Has("coastal") && file.Member("coastal").Flag())
        {
            TemperatureOnly = file.Member("et0").OneOf(s_rules),
        };
        var inoculated = file.Member("inoculated").Date();
        LocalDate? until = file.Has("until") ? file.Member("until").Date() : null;
        if (until < inoculated)
            throw file.Member("until").Error($"{until:uuuu-MM-dd} is before the inoculation on {inoculated:uuuu-MM-dd}; expected that day or later");

        var log = file.Items("water").Select(e => (LogEntry)new WaterGiven(e.Only("date", "mm").Member("date").Date(), e.Member("mm").Number(0, 1000)))
            .Concat(file.Items("covers").Select(e => new CoverChanged(e.Only("date", "cover").Member("date").Date(), e.Member("cover").OneOf(s_covers))))
            .Concat(file.Items("events").Select(e => Event(e, catalogue)))
            .ToList();
        foreach (var item in file.Items("water").Concat(file.Items("covers")).Concat(file.Items("events")))
        {
            var date = item.Member("date").Date();
            if (date < inoculated)
                throw item.Member("date").Error($"{date:uuuu-MM-dd} is before the inoculation on {inoculated:uuuu-MM-dd}; expected that day or later");
        }

        return new AccountCase(
            BedOf(file.Member("bed").Object(), inoculated, catalogue),
            log,
            ladder,
            until,
            file.Has("wind_height_m") ? file.Member("wind_height_m").Number(0.2, 200) : null);
    }

    /// <summary>The day with its wind brought down to 2 m.</summary>
    public WeatherDay AtTwoMetres(WeatherDay day) => WindHeight is { } height && day.Wind is { } wind
        ? day with { Wind = ReferenceEvapotranspiration.WindAtTwoMetres(wind, height) }
        : day;

    private static Bed BedOf(CaseReader bed, LocalDate inoculated, BedCatalogue catalogue)
    {
        bed.Only(
            "species", "material", "d0", "laid", "layers", "area_m2", "shade", "mulch_cm", "mulch_material", "cover", "wetness",
            "spawn_rate", "throughfall", "run_on", "sun_offset_c");
        foreach (var single in new[] { "material", "d0", "laid" })
        {
            if (bed.Has("layers") && bed.Has(single))
                throw bed.Member(single).Error($"'{single}' stands beside 'layers'; expected one layer's material, d0 and laid, or layers");
        }

        var layers = bed.Has("layers")
            ? bed.Items("layers").Select(l => Layer(l.Only("material", "d0", "laid"), inoculated, catalogue)).ToList()
            : [Layer(bed, inoculated, catalogue)];
        if (layers.Count == 0)
            throw bed.Member("layers").Error("expected at least one layer");

        var mulch = bed.NumberOr("mulch_cm", 0, 100, 0);
        return new Bed(bed.Member("species").OneOf(catalogue.Species), inoculated, layers)
        {
            Area = bed.NumberOr("area_m2", 0.01, 100_000, 1),
            Shade = bed.NumberOr("shade", 0, 1, 0),
            MulchCm = mulch,
            Mulch = mulch > 0 || bed.Has("mulch_material") ? bed.Member("mulch_material").OneOf(catalogue.Materials) : null,
            Cover = bed.Has("cover") ? bed.Member("cover").OneOf(s_covers) : Cover.None,
            Wetness = bed.NumberOr("wetness", 0, 3, 1),
            SpawnRate = bed.Has("spawn_rate") ? bed.Member("spawn_rate").Number(0.001, 100) : null,
            Throughfall = bed.NumberOr("throughfall", 0, 1, 1),
            RunOn = bed.NumberOr("run_on", 0, 10, 1),
            SunOffset = bed.NumberOr("sun_offset_c", 0, 10, 0),
        };
    }

    private static Layer Layer(CaseReader layer, LocalDate inoculated, BedCatalogue catalogue)
    {
        var laid = layer.Has("laid") ? layer.Member("laid").Date() : inoculated;
        if (laid > inoculated)
            throw layer.Member("laid").Error($"after the inoculation on {inoculated:uuuu-MM-dd}; later fillings are topped-up events");
        return new Layer(layer.Member("material").OneOf(catalogue.Materials), layer.Member("d0").Number(0.005, 3), laid);
    }

    private static LogEntry Event(CaseReader e, BedCatalogue catalogue)
    {
        e.Only("date", "time", "kind", "value", "material", "d0");
        var date = e.Member("date").Date();
        // Each kind with the members that it reads: one that it would pass over is a mistake, too.
        var kinds = new Dictionary<string, (string[] Members, Func<LogEntry> Read)>
        {
            ["squeeze"] = (["value"], () => e.Member("value").IsNumber
                ? new MoistureMeasured(date, e.Member("value").Number(0.01, 0.99))
                : new SqueezeTest(date, e.Member("value").OneOf(s_squeezes))),
            ["moisture"] = (["value"], () => new MoistureMeasured(date, e.Member("value").Number(0.01, 0.99))),
            ["water"] = (["value"], () => new WaterGiven(date, e.Member("value").Number(0, 1000))),
            ["gauge"] = (["value"], () => new GaugeReading(date, e.Member("value").Number(0, 2000))),
            ["cover"] = (["value"], () => new CoverChanged(date, e.Member("value").OneOf(s_covers))),
            ["mycelium"] = (["value"], () => new MyceliumSeen(date, e.Member("value").Number(0, 1))),
            ["pins"] = ([], () => new PinsSeen(date)),
            ["no-pins"] = ([], () => new NoPinsFound(date)),
            ["picked"] = (["value"], () => new Picked(date, e.NumberOr("value", 0, 10_000, 0))),
            ["flush-over"] = ([], () => new FlushOver(date)),
            ["topped-up"] = (["material", "d0"], () => new ToppedUp(
                date, e.Member("material").OneOf(catalogue.Materials), e.Member("d0").Number(0.005, 3))),
            ["contamination"] = ([], () => new ContaminationSeen(date)),
            ["spawn-taken"] = ([], () => new SpawnTaken(date)),
            ["spent"] = ([], () => new BedSpent(date)),
        };
        var (members, read) = e.Member("kind").OneOf(kinds);
        e.Only(["date", "time", "kind", .. members]);
        var entry = read();
        return e.Has("time") ? entry with { Time = e.Member("time").Time() } : entry;
    }
}
