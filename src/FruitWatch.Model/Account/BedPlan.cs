using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Account;

/// <summary>
/// A bed and its log, laid out by day for the account: what was given, which cover lay on it, what was read and seen.
/// Made once, run as often as there are futures and scenarios.
/// </summary>
public sealed class BedPlan
{
    private readonly double[] water;
    private readonly double[] gauge;
    private readonly Cover[] covers;
    private readonly Layer[] layers;
    private readonly IReadOnlyDictionary<Cover, CoverEffect> coverEffects;
    private readonly LogEntry[] corrections;
    private readonly int[] firstCorrection;

    /// <summary>Lays out a bed's log.</summary>
    /// <param name="bed">The bed.</param>
    /// <param name="log">Its log, in any order.</param>
    /// <param name="catalogue">Effects of covers.</param>
    /// <param name="days">Number of days from inoculation that the plan covers; entries after them are left out.</param>
    /// <exception cref="ArgumentException">The bed has no layer, or the log has an entry from before the inoculation.</exception>
    public BedPlan(Bed bed, IEnumerable<LogEntry> log, BedCatalogue catalogue, int days)
    {
        ArgumentNullException.ThrowIfNull(bed);
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(catalogue);
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        if (bed.Layers.Count == 0)
            throw new ArgumentException("A bed needs at least one layer.", nameof(bed));

        Bed = bed;
        Days = days;
        coverEffects = catalogue.Covers;
        water = new double[days];
        gauge = new double[days];
        Array.Fill(gauge, double.NaN);
        covers = new Cover[days];
        Array.Fill(covers, bed.Cover);

        var laid = bed.Layers.ToList();
        var kept = new List<LogEntry>();
        // OrderBy is stable: entries of the same time keep the order they were given in.
        foreach (var entry in log.OrderBy(e => e.Date).ThenBy(e => e.Time))
        {
            var day = DayOf(entry.Date);
            if (day < 0)
                throw new ArgumentException($"{entry.GetType().Name} of {entry.Date:uuuu-MM-dd} is from before the inoculation on {bed.Inoculated:uuuu-MM-dd}.", nameof(log));
            if (day >= days)
                continue;

            switch (entry)
            {
                case WaterGiven given: water[day] += given.Mm; break;
                case GaugeReading reading: gauge[day] = reading.Mm; break;
                case CoverChanged change: Array.Fill(covers, change.Cover, day, days - day); break;
                case ToppedUp topUp: laid.Add(new Layer(topUp.Material, topUp.Depth, topUp.Date)); kept.Add(entry); break;
                case ContaminationSeen or SpawnTaken: break;
                default: kept.Add(entry); break;
            }
        }

        layers = [.. laid];
        corrections = [.. kept];
        firstCorrection = new int[days + 1];
        var next = 0;
        for (var day = 0; day <= days; day++)
        {
            while (next < corrections.Length && DayOf(corrections[next].Date) < day)
                next++;
            firstCorrection[day] = next;
        }
    }

    /// <summary>The bed.</summary>
    public Bed Bed { get; }

    /// <summary>Number of days from inoculation that the plan covers.</summary>
    public int Days { get; }

    /// <summary>Cover on a day.</summary>
    /// <param name="day">Days since inoculation.</param>
    public Cover CoverOn(int day) => covers[day];

    /// <summary>Water given on a day. [mm]</summary>
    /// <param name="day">Days since inoculation.</param>
    public double WaterOn(int day) => water[day];

    /// <summary>The log's corrections of a day, in order of time.</summary>
    /// <param name="day">Days since inoculation.</param>
    public ReadOnlySpan<LogEntry> CorrectionsOn(int day) =>
        corrections.AsSpan(firstCorrection[day], firstCorrection[day + 1] - firstCorrection[day]);

    /// <summary>The bed as it lies at the start of a day.</summary>
    /// <param name="day">Days since inoculation.</param>
    internal BedDay On(int day)
    {
        var today = Bed.Inoculated.PlusDays(day);
        double depth = 0, dry = 0, density = 0, porosity = 0, low = 0, cc = 0, mark = 0, drain = 0, life = 0, fresh = 0;
        foreach (var (material, laidDepth, laidOn) in layers)
        {
            var age = Period.DaysBetween(laidOn, today);
            if (age < 0)
                continue;
            var years = age / 365.25;
            var d = laidDepth * (1 - material.Settling * (1 - Math.Exp(-3 * years))) * Math.Exp(-material.Decay * years / 2);
            depth += d;
            dry += material.DryBulkDensity * laidDepth * Math.Exp(-material.Decay * years);
            density += d * material.DryBulkDensity;
            porosity += d * material.Porosity;
            low += d * material.ThetaLow;
            cc += d * material.ThetaCc;
            mark += d * material.ThetaWater;
            drain += d * material.DrainDays;
            life += d * material.FlushLife;
            // Fresh material comes wetted; what the bed was filled with at inoculation is in its starting water.
            if (age == 0 && day > 0)
                fresh += 1000 * material.ThetaCc * d;
        }

        var cover = coverEffects[covers[day]];
        return new BedDay(
            Depth: depth,
            DryMass: dry,
            Density: density / depth,
            Porosity: porosity / depth,
            Low: 1000 * low,
            Capacity: 1000 * cc,
            Saturation: 1000 * porosity,
            WaterMark: 1000 * mark,
            DrainShare: 1 - Math.Exp(-1 / (drain / depth)),
            FlushLife: life / depth,
            FreshWater: fresh,
            Given: water[day],
            Gauge: gauge[day],
            RainShare: cover.Rain * Bed.Throughfall * Bed.RunOn,
            EvaporationShare: (0.30 + 0.70 * (1 - Bed.Shade)) * cover.Evaporation,
            Covered: covers[day] != Cover.None);
    }

    private int DayOf(LocalDate date) => Period.DaysBetween(Bed.Inoculated, date);
}

/// <summary>A bed at the start of a day: what its materials, covers and log make of it. Water in mm, depth in m.</summary>
internal readonly record struct BedDay(
    double Depth,
    double DryMass,
    double Density,
    double Porosity,
    double Low,
    double Capacity,
    double Saturation,
    double WaterMark,
    double DrainShare,
    double FlushLife,
    double FreshWater,
    double Given,
    double Gauge,
    double RainShare,
    double EvaporationShare,
    bool Covered);
