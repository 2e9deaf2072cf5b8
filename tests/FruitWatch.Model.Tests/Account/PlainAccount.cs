using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

/// <summary>A bed at a day's end, as <see cref="PlainAccount"/> has it.</summary>
internal sealed record PlainDay(
    double Water, double Mulch, double Bed, double Soil, double SpawnRun, double Progress, Phase Phase, AccountEvent Event, int Flushes, int FrostNights);

/// <summary>
/// The bed model a second time: sections 3 to 8 of docs/model.md written out plainly, one bed, one future, one number after the
/// other. It shares the descriptions of bed, log and weather with the first, and no line of its computing.
/// </summary>
/// <param name="bed">The bed.</param>
/// <param name="log">Its log.</param>
/// <param name="weather">Days with ET0 and humidity given, from the inoculation at the latest.</param>
/// <param name="latitude">[°]</param>
internal sealed class PlainAccount(Bed bed, IReadOnlyList<LogEntry> log, IReadOnlyList<WeatherDay> weather, double latitude)
{
    private readonly Species species = bed.Species;
    private readonly List<double> inflows = [];
    private readonly List<double> bedTemperatures = [];
    private PlainLayer layer = new(bed, log, 0);
    private double water;
    private double mulch;
    private double tBed;
    private double tSoil;
    private double run;
    private double progress;
    private Phase phase = Phase.SpawnRun;
    private int flushes;
    private int flushesOfFilling;
    private int poorDays;
    private int frostNights;
    private int? firstReady;
    private bool pickedBeforeRest;

    public double EvaporationMultiplier { get; init; } = bed.EvaporationMultiplier;

    public double GrowthMultiplier { get; init; } = bed.GrowthMultiplier;

    /// <summary>Water given beside the log's, by day. [mm]</summary>
    public IReadOnlyList<double>? Given { get; init; }

    public List<PlainDay> Run(int days)
    {
        Start();
        var account = new List<PlainDay>();
        for (var day = 0; day < days; day++)
        {
            layer = new PlainLayer(bed, log, day);
            var what = Day(day, weather[FirstDay + day]);
            account.Add(new PlainDay(water, mulch, tBed, tSoil, run, progress, phase, what, flushes, frostNights));
        }

        return account;
    }

    private int FirstDay => Period.DaysBetween(weather[0].Date, bed.Inoculated);

    private void Start()
    {
        water = Math.Max(layer.Low, layer.Capacity * bed.Wetness);
        tBed = MeanBefore(10);
        tSoil = MeanBefore(60);
    }

    private double MeanBefore(int days)
    {
        var before = weather.Take(FirstDay).TakeLast(days).Select(Mean).ToList();
        return before.Count > 0 ? before.Average() : Mean(weather[FirstDay]);
    }

    private static double Mean(WeatherDay day) => (day.Tmax!.Value + day.Tmin!.Value) / 2;

    private AccountEvent Day(int day, WeatherDay air)
    {
        var entries = log.Where(e => e.Date == air.Date).OrderBy(e => e.Time).ToList();
        var cover = log.OfType<CoverChanged>().Where(e => e.Date <= air.Date).OrderBy(e => e.Date).ThenBy(e => e.Time).LastOrDefault()?.Cover ?? bed.Cover;

        Wet(day, air, entries, cover);
        Warm(air, cover);
        bedTemperatures.Add(tBed);

        var what = Fruit(day, air, cover);
        foreach (var entry in entries)
            what = See(entry, day) ?? what;
        return what;
    }

    /// <summary>Section 4.</summary>
    private void Wet(int day, WeatherDay air, List<LogEntry> entries, Cover cover)
    {
        var (coverEvaporation, coverRain) = cover switch
        {
            Cover.Sheet => (0.07, 0.05),
            Cover.PiercedSheet => (0.30, 0.30),
            _ => (1.0, 1.0),
        };

        if (day > 0)
        {
            foreach (var topUp in entries.OfType<ToppedUp>())
                water += 1000 * topUp.Material.ThetaCc * topUp.Depth;
        }

        if (water > layer.Full)
            water = layer.Full;

        var rain = coverRain * bed.Throughfall * bed.RunOn * (entries.OfType<GaugeReading>().LastOrDefault()?.Mm ?? air.Rain!.Value);
        var mulchStore = (bed.Mulch?.MulchStorePerCm ?? 0) * bed.MulchCm;
        var toMulch = Math.Min(rain, mulchStore - mulch);
        mulch += toMulch;
        var inflow = rain - toMulch + entries.OfType<WaterGiven>().Sum(e => e.Mm) + (Given?[day] ?? 0);
        inflows.Add(inflow);

        var sheds = water < layer.Low + 0.1 * (layer.Capacity - layer.Low);
        water = Math.Min(layer.Full, water + (sheds ? 0.6 * inflow : inflow));
        if (water > layer.Capacity)
            water -= (water - layer.Capacity) * (1 - Math.Exp(-1 / layer.DrainDays));

        var potential = air.FeedEvapotranspiration!.Value * (0.30 + 0.70 * (1 - bed.Shade)) * coverEvaporation * EvaporationMultiplier;
        var fromMulch = Math.Min(mulch, potential);
        mulch -= fromMulch;
        var dryness = Clamp(layer.Moisture(water) / 0.6, 0, 1);
        var mulchKeeps = bed.MulchCm < 1 ? 0 : Math.Min(0.50, 0.22 + 0.02 * bed.MulchCm);
        water = Math.Max(layer.Low, water - (potential - fromMulch) * (1 - mulchKeeps) * dryness);

        foreach (var entry in entries)
        {
            var measured = entry switch
            {
                SqueezeTest { Result: Squeeze.Crumbles } => layer.Water(0.2),
                SqueezeTest { Result: Squeeze.Right } => layer.Water(0.8),
                SqueezeTest => layer.Water(1.3),
                // MC = S/(S + D), solved for S.
                MoistureMeasured m => m.WetBasis * layer.DryMass / (1 - m.WetBasis),
                _ => water,
            };
            water = Clamp(measured, layer.Low, layer.Full);
        }
    }

    /// <summary>Section 5.</summary>
    private void Warm(WeatherDay air, Cover cover)
    {
        var d = layer.Depth;
        var theta = water / (1000 * d);
        var lambda = 0.04 + 0.51 * theta;
        var top = 1.0 / 15 + (cover == Cover.None ? 0 : 1.0 / 6) + bed.MulchCm / 100 / 0.15 + 0.6 * d / lambda;
        var bottom = 0.4 * d / lambda + 1.0;
        var heat = (1900 * layer.Density + 4.18e6 * theta) * d + 0.5 * 0.4e6 * (bed.MulchCm / 100);
        var a = 86400 / (top * heat);
        var b = 86400 / (bottom * heat);
        var c = 86400 / (bottom * 4.6e6);
        var u = tBed + a * (Mean(air) + bed.SunOffset * (1 - bed.Shade));
        var n = (1 + a + b) * (1 + c) - b * c;
        (tBed, tSoil) = ((u * (1 + c) + b * tSoil) / n, ((1 + a + b) * tSoil + c * u) / n);
    }

    /// <summary>Sections 6 and 7.</summary>
    private AccountEvent Fruit(int day, WeatherDay air, Cover cover)
    {
        var w = layer.Moisture(water);
        var pores = layer.Porosity - water / (1000 * layer.Depth);
        var g = Math.Min(Clamp((w - 0.10) / 0.35, 0, 1), Clamp((pores - 0.05) / 0.10, 0, 1));
        var h = Clamp((air.Humidity!.Value - 30) / 40, 0.1, 1);
        var pinZone = (tBed + Mean(air)) / 2;
        var clearNight = air.Tmax - air.Tmin >= 10 && bed.Shade < 0.5;
        var ground = air.Tmin!.Value - (cover != Cover.None ? 0 : clearNight ? 3 : 1);
        var pin = Trapezoid(pinZone, species.Pinning.Band);
        var grow = Trapezoid(pinZone, species.Growing.Band);
        var mycelium = Beta(tBed) * g * GrowthMultiplier;

        CountFrost(day, air.Date, ground);
        switch (phase)
        {
            case Phase.SpawnRun:
                var ks = Clamp(Math.Sqrt((bed.SpawnRate ?? species.SpawnRun.SpawnRate) / species.SpawnRun.SpawnRate), 0.5, 1.5);
                var hot = tBed >= species.SpawnRun.THarm;
                run = Clamp(run + mycelium * ks / species.SpawnRun.DaysAtOptimum - (hot ? 0.1 : 0), 0, 1);
                return run >= 1 && day >= species.SpawnRun.EarliestReadyDays ? Go(Phase.Ready, day, AccountEvent.Colonised)
                    : hot ? AccountEvent.HeatDamage
                    : AccountEvent.None;
            case Phase.Ready:
                return pin > 0 && Triggered(day, air) ? Go(Phase.Pinning, day, AccountEvent.Triggered) : AccountEvent.None;
            case Phase.Pinning:
                progress += pin * g * h / species.Pinning.Days;
                poorDays = pin * g * h < 0.05 ? poorDays + 1 : 0;
                return progress >= 1 ? Go(Phase.Growing, day, AccountEvent.Pins)
                    : poorDays == 7 ? Go(Phase.Ready, day, AccountEvent.AttemptFailed)
                    : AccountEvent.None;
            case Phase.Growing:
                progress += grow * g / species.Growing.Days;
                poorDays = grow * g < 0.05 ? poorDays + 1 : 0;
                if (ground <= species.Growing.KillingFrost || poorDays == 5)
                {
                    pickedBeforeRest = false;
                    return Go(Phase.Resting, day, AccountEvent.FlushLost);
                }

                return progress >= 1 ? Go(Phase.Picking, day, AccountEvent.Harvest) : AccountEvent.None;
            case Phase.Picking:
                progress += 1 / species.PickingDays;
                return progress >= 1 ? EndFlush(day) : AccountEvent.None;
            case Phase.Resting:
                progress += mycelium / species.RestingDays;
                return progress < 1 ? AccountEvent.None
                    : flushesOfFilling >= layer.FlushLife ? Go(Phase.Spent, day, AccountEvent.Spent)
                    : Go(Phase.Ready, day, AccountEvent.Ready);
            default:
                return AccountEvent.None;
        }
    }

    private void CountFrost(int day, LocalDate date, double ground)
    {
        if (species.Triggers.Frost is not { } frost || firstReady is not { } ready || day <= ready)
            return;
        if (date.Day == 1 && date.Month == (latitude < 0 ? 1 : 7))
            frostNights = 0;
        if (ground <= frost.GroundMin)
            frostNights++;
    }

    private bool Triggered(int day, WeatherDay air)
    {
        var (soak, frost, cooling) = species.Triggers;
        var soaked = soak is null || inflows.TakeLast(soak.Days).Sum() >= soak.Mm;
        var frosted = frost is null || frostNights >= frost.Nights;
        var fell = day >= 10 && bedTemperatures.SkipLast(1).TakeLast(10).Sum() / 10 - Mean(air) >= cooling?.Delta;
        return soaked && frosted && (cooling is null || fell || tBed <= cooling.Mark);
    }

    /// <summary>Section 8, what acts at the day's end; null where nothing happened by it.</summary>
    private AccountEvent? See(LogEntry entry, int day)
    {
        switch (entry)
        {
            case MyceliumSeen seen:
                run = Math.Max(run, seen.Share);
                return null;
            case PinsSeen:
                return Go(Phase.Growing, day, AccountEvent.Pins);
            case Picked when phase == Phase.Picking:
                return null;
            case Picked:
                if (phase == Phase.Resting && pickedBeforeRest)
                    (flushes, flushesOfFilling) = (flushes - 1, flushesOfFilling - 1);
                return Go(Phase.Picking, day, AccountEvent.Harvest);
            case FlushOver when phase != Phase.Resting:
                return EndFlush(day);
            case ToppedUp:
                flushesOfFilling = 0;
                if (phase == Phase.Spent)
                {
                    pickedBeforeRest = false;
                    Go(Phase.Resting, day, AccountEvent.None);
                }

                return null;
            case BedSpent:
                return Go(Phase.Spent, day, AccountEvent.Spent);
            default:
                return null;
        }
    }

    private AccountEvent EndFlush(int day)
    {
        flushes++;
        flushesOfFilling++;
        pickedBeforeRest = true;
        return Go(Phase.Resting, day, AccountEvent.FlushOver);
    }

    private AccountEvent Go(Phase next, int day, AccountEvent what)
    {
        phase = next;
        progress = 0;
        poorDays = 0;
        firstReady ??= day;
        return what;
    }

    private double Beta(double t)
    {
        var (low, best, high, q, _, _, _, _) = species.SpawnRun;
        if (t <= low || t >= high)
            return 0;
        return Math.Pow((high - t) / (high - best) * Math.Pow((t - low) / (best - low), (best - low) / (high - best)), q);
    }

    private static double Trapezoid(double t, Band band)
    {
        var (a, b, c, d) = band;
        if (t <= a || t >= d)
            return 0;
        return t < b ? (t - a) / (b - a) : t > c ? (d - t) / (d - c) : 1;
    }

    private static double Clamp(double x, double a, double b) => Math.Min(b, Math.Max(a, x));
}

/// <summary>Section 3: all fillings of a bed as one layer, on one day.</summary>
internal sealed class PlainLayer
{
    public PlainLayer(Bed bed, IReadOnlyList<LogEntry> log, int day)
    {
        var today = bed.Inoculated.PlusDays(day);
        var laid = bed.Layers.Concat(log.OfType<ToppedUp>().Select(e => new Layer(e.Material, e.Depth, e.Date))).Where(l => l.Laid <= today);
        foreach (var (material, d0, on) in laid)
        {
            var t = Period.DaysBetween(on, today) / 365.25;
            var d = d0 * (1 - material.Settling * (1 - Math.Exp(-3 * t))) * Math.Exp(-material.Decay * t / 2);
            Depth += d;
            DryMass += material.DryBulkDensity * d0 * Math.Exp(-material.Decay * t);
            Density += material.DryBulkDensity * d;
            Porosity += material.Porosity * d;
            Low += 1000 * material.ThetaLow * d;
            Capacity += 1000 * material.ThetaCc * d;
            Full += 1000 * material.Porosity * d;
            DrainDays += material.DrainDays * d;
            FlushLife += material.FlushLife * d;
        }

        Density /= Depth;
        Porosity /= Depth;
        DrainDays /= Depth;
        FlushLife /= Depth;
    }

    public double Depth { get; }

    public double DryMass { get; }

    public double Density { get; }

    public double Porosity { get; }

    public double Low { get; }

    public double Capacity { get; }

    public double Full { get; }

    public double DrainDays { get; }

    public double FlushLife { get; }

    public double Moisture(double water) => (water - Low) / (Capacity - Low);

    public double Water(double moisture) => Low + moisture * (Capacity - Low);
}
