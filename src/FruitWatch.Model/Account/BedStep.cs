using System.Numerics;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Responses;

namespace FruitWatch.Model.Account;

/// <summary>
/// One day of a bed's account in all of its futures: water, then temperature, then fruiting. A pure step from state to state;
/// it allocates nothing.
/// </summary>
public sealed class BedStep
{
    private const double SecondsPerDay = 86_400;
    private const double SurfaceResistance = 1.0 / 15; // m²K/W, air over a sheltered bed
    private const double SheetResistance = 1.0 / 6; // m²K/W, still air under a sheet
    private const double MulchConductivity = 0.15; // W/m/K, loose and in shelter
    private const double MulchHeat = 0.4e6; // J/m³/K
    private const double SoilHeat = 4.6e6; // J/m²/K, two metres of soil seen from above
    private const double SoilResistance = 1.0; // m²K/W

    private readonly BedPlan plan;
    private readonly Fruiting fruiting;
    private readonly BetaResponse mycelium;
    private readonly Trapezoid pinBand;
    private readonly Trapezoid growBand;
    private readonly double mulchStore;
    private readonly double mulchReduction;

    /// <summary>Prepares the steps of a bed.</summary>
    /// <param name="plan">The bed and its log.</param>
    /// <param name="latitude">Of the site. [°]; tells when the cold year starts.</param>
    public BedStep(BedPlan plan, double latitude)
    {
        ArgumentNullException.ThrowIfNull(plan);
        this.plan = plan;
        var bed = plan.Bed;
        var species = bed.Species;
        fruiting = new Fruiting(species, bed, latitude);
        mycelium = new BetaResponse(species.SpawnRun);
        pinBand = new Trapezoid(species.Pinning.Band);
        growBand = new Trapezoid(species.Growing.Band);
        mulchStore = (bed.Mulch?.MulchStorePerCm ?? 0) * bed.MulchCm;
        mulchReduction = bed.MulchCm < 1 ? 0 : Math.Min(0.50, 0.22 + 0.02 * bed.MulchCm);
    }

    /// <summary>Puts a state at the evening before the first day, with the temperatures that the weather before it left.</summary>
    /// <param name="state">Is overwritten.</param>
    /// <param name="forcing">Weather from the first day at the latest; more before it warms the start.</param>
    public void Start(BedState state, SiteForcing forcing)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(forcing);
        var first = IndexOf(forcing, 0);
        var firstMean = forcing.Tmean[first * forcing.Stride];
        state.Start(plan, plan.On(0), bed: forcing.MeanBefore(first, 10) ?? firstMean, soil: forcing.MeanBefore(first, 60) ?? firstMean);
    }

    /// <summary>Puts a state at the evening before the first day, with temperatures of its own in each future.</summary>
    /// <param name="state">Is overwritten.</param>
    /// <param name="bed">Bed temperature in each lane. [°C]</param>
    /// <param name="soil">Soil temperature in each lane. [°C]</param>
    internal void Start(BedState state, ReadOnlySpan<double> bed, ReadOnlySpan<double> soil)
    {
        state.Start(plan, plan.On(0), bed[0], soil[0]);
        bed.CopyTo(state.BedTemperature);
        soil.CopyTo(state.SoilTemperature);
    }

    /// <summary>Goes on by one day.</summary>
    /// <param name="state">Of the evening before; is overwritten with that of the day's end.</param>
    /// <param name="forcing">The site's weather: as many futures as the state has, or one that all of them share.</param>
    /// <param name="day">Days since inoculation.</param>
    /// <param name="result">Is overwritten with what the day brought.</param>
    public void Advance(BedState state, SiteForcing forcing, int day, DayResult result) => Advance(state, forcing, day, result, []);

    /// <summary>Goes on by one day, with water given in some futures and not in others.</summary>
    /// <param name="state">Of the evening before; is overwritten with that of the day's end.</param>
    /// <param name="forcing">The site's weather: as many futures as the state has, or one that all of them share.</param>
    /// <param name="day">Days since inoculation.</param>
    /// <param name="result">Is overwritten with what the day brought.</param>
    /// <param name="given">Water given in each lane beside that of the log [mm]; empty for none.</param>
    internal void Advance(BedState state, SiteForcing forcing, int day, DayResult result, ReadOnlySpan<double> given)
    {
        AdvanceUncorrected(state, forcing, day, result, given);
        Correct(state, day, result);
    }

    /// <summary>The day without what the grower saw at its end, except for a measured moisture, which acts within it.</summary>
    internal void AdvanceUncorrected(BedState state, SiteForcing forcing, int day, DayResult result, ReadOnlySpan<double> given)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(forcing);
        ArgumentNullException.ThrowIfNull(result);
        if (state.Futures != forcing.Futures && forcing.Futures != 1)
            throw new ArgumentException($"The state has {state.Futures} futures, the weather {forcing.Futures}.", nameof(forcing));

        var at = IndexOf(forcing, day);
        var today = plan.On(day);
        WaterAndTemperature(state, forcing, at, day, today, MeasuredWater(plan.CorrectionsOn(day), today), result, given);
        fruiting.Advance(state, forcing, at, day, today, result);
    }

    /// <summary>What the grower saw has the last word on the day.</summary>
    internal void Correct(BedState state, int day, DayResult result)
    {
        if (plan.CorrectionsOn(day) is { IsEmpty: false } corrections)
            Fruiting.Correct(state, day, corrections, result);
    }

    private int IndexOf(SiteForcing forcing, int day)
    {
        var at = NodaTime.Period.DaysBetween(forcing.First, plan.Bed.Inoculated) + day;
        return at >= 0 && at < forcing.Days
            ? at
            : throw new ArgumentOutOfRangeException(nameof(day), day, $"The weather runs from {forcing.First:uuuu-MM-dd} for {forcing.Days} days.");
    }

    /// <summary>Water store that a squeeze test or a measured moisture of the day asks for; NaN where there is none. [mm]</summary>
    private static double MeasuredWater(ReadOnlySpan<LogEntry> corrections, in BedDay today)
    {
        var water = double.NaN;
        foreach (var entry in corrections)
        {
            water = entry switch
            {
                SqueezeTest squeeze => today.Low + RelativeMoisture(squeeze.Result) * (today.Capacity - today.Low),
                MoistureMeasured measured => measured.WetBasis * today.DryMass / (1 - measured.WetBasis),
                _ => water,
            };
        }

        return double.IsNaN(water) ? water : Math.Clamp(water, today.Low, today.Saturation);
    }

    private static double RelativeMoisture(Squeeze result) => result switch
    {
        Squeeze.Crumbles => 0.2,
        Squeeze.Right => 0.8,
        _ => 1.3,
    };

    private void WaterAndTemperature(
        BedState state,
        SiteForcing forcing,
        int at,
        int day,
        in BedDay today,
        double measured,
        DayResult result,
        ReadOnlySpan<double> givenByLane)
    {
        var stride = state.Stride;
        var shared = forcing.Futures == 1;
        var bed = plan.Bed;
        var one = Vector<double>.One;
        var zero = Vector<double>.Zero;
        var low = new Vector<double>(today.Low);
        var capacity = new Vector<double>(today.Capacity);
        var saturation = new Vector<double>(today.Saturation);
        var span = new Vector<double>(today.Capacity - today.Low);
        var shedding = new Vector<double>(today.Low + 0.1 * (today.Capacity - today.Low));
        var givenToAll = new Vector<double>(today.Given);
        var rainShare = new Vector<double>(today.RainShare);
        var drainShare = new Vector<double>(today.DrainShare);
        var evaporationShare = new Vector<double>(today.EvaporationShare);
        var throughMulch = new Vector<double>(1 - mulchReduction);
        var store = new Vector<double>(mulchStore);
        var fresh = new Vector<double>(today.FreshWater);
        var millimetres = new Vector<double>(1000 * today.Depth);
        var porosity = new Vector<double>(today.Porosity);

        var sheet = today.Covered ? SheetResistance : 0;
        var topFixed = new Vector<double>(SurfaceResistance + sheet + bed.MulchCm / 100 / MulchConductivity);
        var topDepth = new Vector<double>(0.6 * today.Depth);
        var bottomDepth = new Vector<double>(0.4 * today.Depth);
        var dryHeat = new Vector<double>(1900 * today.Density);
        var depth = new Vector<double>(today.Depth);
        var mulchHeat = new Vector<double>(0.5 * MulchHeat * (bed.MulchCm / 100));
        var sun = new Vector<double>(bed.SunOffset * (1 - bed.Shade));
        var seconds = new Vector<double>(SecondsPerDay);

        var hasGauge = !double.IsNaN(today.Gauge);
        var gauge = new Vector<double>(hasGauge ? today.Gauge : 0);
        var hasMeasured = !double.IsNaN(measured);
        var measuredWater = new Vector<double>(hasMeasured ? measured : 0);
        var exposed = bed.Shade < 0.5;
        var ground = today.Covered ? forcing.Tmin : exposed ? forcing.GroundOpen : forcing.GroundSheltered;
        var grows = state.MyceliumGrows;

        var ring = day % state.SoakDays * stride;
        for (var i = 0; i < stride; i += Vector<double>.Count)
        {
            // One series of weather fills one vector with itself, which then serves all lanes.
            var f = at * forcing.Stride + (shared ? 0 : i);
            var given = givenByLane.IsEmpty ? givenToAll : givenToAll + new Vector<double>(givenByLane[i..]);
            var s0 = new Vector<double>(state.Water, i);
            var m = new Vector<double>(state.Mulch, i);

            // Filling: fresh material brings its water; what a shrunken layer cannot hold runs out.
            var s = Vector.Min(saturation, s0 + fresh);
            var filling = s - s0;

            // 1. Rain through cover and trees, first into the mulch.
            var rain = rainShare * (hasGauge ? gauge : new Vector<double>(forcing.Rain, f));
            var toMulch = Vector.Min(rain, store - m);
            m += toMulch;
            var inflow = rain - toMulch + given;
            inflow.CopyTo(state.Inflow, ring + i);

            // 2. Absorption: dry chips shed water.
            var share = Vector.ConditionalSelect(Vector.LessThan(s, shedding), new Vector<double>(0.6), one);
            var wetted = Vector.Min(saturation, s + share * inflow);
            var passed = inflow - (wetted - s);

            // 3. Drainage of what is above container capacity.
            var drained = Vector.ConditionalSelect(
                Vector.GreaterThan(wetted, capacity), (wetted - capacity) * drainShare, zero);
            s = wetted - drained;

            // 4. Evaporation, first from the mulch. FAO-56 eq. 74 in its two-stage form.
            var dryness = Vector.Min(one, Vector.Max(zero, (s - low) / span / new Vector<double>(0.6)));
            var potential = new Vector<double>(forcing.Et0, f) * evaporationShare * new Vector<double>(state.EvaporationMultiplier, i);
            var fromMulch = Vector.Min(m, potential);
            m -= fromMulch;
            var dried = Vector.Max(low, s - (potential - fromMulch) * throughMulch * dryness);
            var evaporated = s - dried;
            s = hasMeasured ? measuredWater : dried;

            s.CopyTo(state.Water, i);
            m.CopyTo(state.Mulch, i);

            if (result.Flows is { } flows)
            {
                rain.CopyTo(flows.Rain, i);
                toMulch.CopyTo(flows.ToMulch, i);
                inflow.CopyTo(flows.Inflow, i);
                passed.CopyTo(flows.PassedThrough, i);
                drained.CopyTo(flows.Drained, i);
                fromMulch.CopyTo(flows.FromMulch, i);
                evaporated.CopyTo(flows.Evaporated, i);
                filling.CopyTo(flows.Filling, i);
                (s - dried).CopyTo(flows.Corrected, i);
            }

            var theta = s / millimetres;
            var air = porosity - theta;
            var w = (s - low) / span;
            var moist = Vector.Min(
                Vector.Min(one, Vector.Max(zero, (w - new Vector<double>(0.10)) / new Vector<double>(0.35))),
                Vector.Min(one, Vector.Max(zero, (air - new Vector<double>(0.05)) / new Vector<double>(0.10))));
            w.CopyTo(result.Moisture, i);
            air.CopyTo(result.Air, i);
            moist.CopyTo(result.MoistureFactor, i);

            // 5. Two boxes, bed and soil, one implicit step of a day.
            var conductivity = new Vector<double>(0.04) + new Vector<double>(0.51) * theta;
            var top = topFixed + topDepth / conductivity;
            var bottom = bottomDepth / conductivity + new Vector<double>(SoilResistance);
            var heat = (dryHeat + new Vector<double>(4.18e6) * theta) * depth + mulchHeat;
            var a = seconds / (top * heat);
            var b = seconds / (bottom * heat);
            var c = seconds / (bottom * new Vector<double>(SoilHeat));
            var mean = new Vector<double>(forcing.Tmean, f);
            var u = new Vector<double>(state.BedTemperature, i) + a * (mean + sun);
            var soil = new Vector<double>(state.SoilTemperature, i);
            var abOne = one + a + b;
            var cOne = one + c;
            var denominator = abOne * cOne - b * c;
            var tBed = (u * cOne + b * soil) / denominator;
            var tSoil = (abOne * soil + c * u) / denominator;
            tBed.CopyTo(state.BedTemperature, i);
            tSoil.CopyTo(state.SoilTemperature, i);

            var pinZone = (tBed + mean) / new Vector<double>(2);
            pinZone.CopyTo(result.PinZone, i);
            new Vector<double>(ground, f).CopyTo(result.GroundMin, i);
            pinBand.At(pinZone).CopyTo(result.PinFactor, i);
            growBand.At(pinZone).CopyTo(result.GrowFactor, i);
            if (grows)
                (mycelium.At(tBed) * moist).CopyTo(result.MyceliumGrowth, i);
        }
    }
}
