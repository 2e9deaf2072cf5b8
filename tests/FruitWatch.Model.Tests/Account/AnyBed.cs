using CsCheck;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

/// <summary>Beds, logs and weather at random, over everything that the catalogue and the log allow.</summary>
internal static class AnyBed
{
    /// <summary>Days of weather made before the inoculation.</summary>
    public const int Before = 20;

    public const int Days = 200;

    private static readonly Gen<LocalDate> s_day = Gen.Int[0, Days - 1].Select(Made.Day0.PlusDays);
    private static readonly Gen<double> s_rain = Gen.Frequency((3, Gen.Const(0.0)), (2, Gen.Double[0, 12]), (1, Gen.Double[0, 80]));

    public static readonly Gen<Material> Material = Among([.. Made.Catalogue.Materials.Values]);
    public static readonly Gen<Cover> Cover = Among(Enum.GetValues<Cover>());

    public static readonly Gen<Bed> Bed =
        from species in Among([.. Made.Catalogue.Species.Values])
        from layers in Gen.Select(Material, Gen.Double[0.02, 0.4], Gen.Int[0, 400], (material, depth, age) =>
            new Layer(material, depth, Made.Day0.PlusDays(-age))).List[1, 3]
        from shade in Gen.Double[0, 1]
        from mulchCm in Gen.Double[0, 12]
        from mulch in Material
        from cover in Cover
        from wetness in Gen.Double[0, 1.5]
        from ways in Gen.Double[0.3, 1.5].Array[4]
        select new Bed(species, Made.Day0, layers)
        {
            Shade = shade,
            MulchCm = mulchCm,
            Mulch = mulch,
            Cover = cover,
            Wetness = wetness,
            SpawnRate = ways[0],
            Throughfall = Math.Min(1, ways[1]),
            RunOn = ways[2],
            SunOffset = 2 * shade,
            EvaporationMultiplier = ways[3],
            GrowthMultiplier = ways[0],
        };

    /// <summary>A year's wave under waves of days, and rain in spells.</summary>
    public static readonly Gen<List<WeatherDay>> Weather =
        from mean in Gen.Double[-5, 25]
        from swing in Gen.Double[0, 15]
        from start in Gen.Double[0, 2 * Math.PI]
        from days in Gen.Select(Gen.Double[-6, 6], Gen.Double[0, 18], s_rain, Gen.Double[0, 9]).Array[Before + Days]
        select days.Select((day, i) => Made.Weather(
            Made.Day0.PlusDays(i - Before),
            mean + swing * Math.Sin(start + 2 * Math.PI * i / 365) + day.Item1,
            day.Item2,
            day.Item3,
            day.Item4)).ToList();

    public static readonly Gen<List<LogEntry>> Log = Entry().List[0, 12];

    /// <summary>Entries that take or bring no water by themselves but what was given.</summary>
    public static readonly Gen<List<LogEntry>> Watering =
        Gen.Select(s_day, Gen.Double[0, 40], (date, mm) => (LogEntry)new WaterGiven(date, mm)).List[0, 12];

    public static Gen<LogEntry> Entry() => Gen.Select(
        Gen.OneOf(
            Gen.Select(s_day, Gen.Double[0, 40], (d, mm) => (LogEntry)new WaterGiven(d, mm)),
            Gen.Select(s_day, Gen.Double[0, 60], (d, mm) => (LogEntry)new GaugeReading(d, mm)),
            Gen.Select(s_day, Among(Enum.GetValues<Squeeze>()), (d, result) => (LogEntry)new SqueezeTest(d, result)),
            Gen.Select(s_day, Gen.Double[0.05, 0.9], (d, share) => (LogEntry)new MoistureMeasured(d, share)),
            Gen.Select(s_day, Cover, (d, cover) => (LogEntry)new CoverChanged(d, cover)),
            Gen.Select(s_day, Gen.Double[0, 1], (d, share) => (LogEntry)new MyceliumSeen(d, share)),
            Gen.Select(s_day, Material, Gen.Double[0.02, 0.2], (d, material, depth) => (LogEntry)new ToppedUp(d, material, depth)),
            Gen.Select(s_day, Gen.Int[0, 5], (d, kind) => kind switch
            {
                0 => new PinsSeen(d),
                1 => new Picked(d, 0.5),
                2 => new FlushOver(d),
                3 => new ContaminationSeen(d),
                4 => new SpawnTaken(d),
                _ => (LogEntry)new BedSpent(d),
            })),
        Gen.Int[0, 23],
        (entry, hour) => entry with { Time = new LocalTime(hour, 0) });

    private static Gen<T> Among<T>(T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);
}
