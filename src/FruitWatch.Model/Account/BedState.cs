using System.Runtime.InteropServices;

namespace FruitWatch.Model.Account;

/// <summary>
/// Where a bed stands in each of its futures: one array a quantity, one place a future. Carries over from one day to the next.
/// </summary>
/// <remarks>Not safe for use by several threads at once; a thread keeps one and uses it for bed after bed.</remarks>
public sealed class BedState
{
    internal const int CoolingDays = 10;
    internal const int NotYet = int.MaxValue;

    /// <summary>Makes room for some futures.</summary>
    /// <param name="futures">At least 1.</param>
    public BedState(int futures)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(futures, 1);
        Futures = futures;
        Stride = Lanes.Padded(futures);
        Water = new double[Stride];
        Mulch = new double[Stride];
        BedTemperature = new double[Stride];
        SoilTemperature = new double[Stride];
        SpawnRun = new double[Stride];
        Progress = new double[Stride];
        EvaporationMultiplier = new double[Stride];
        GrowthMultiplier = new double[Stride];
        Phases = new Phase[Stride];
        Flushes = new int[Stride];
        FlushesOfFilling = new int[Stride];
        PoorDays = new int[Stride];
        FrostNights = new int[Stride];
        FirstReady = new int[Stride];
        RestsFromPicking = new bool[Stride];
        Inflow = [];
        PastBedTemperature = new double[CoolingDays * Stride];
    }

    /// <summary>Number of futures.</summary>
    public int Futures { get; }

    internal int Stride { get; }

    internal double[] Water { get; }

    internal double[] Mulch { get; }

    internal double[] BedTemperature { get; }

    internal double[] SoilTemperature { get; }

    internal double[] SpawnRun { get; }

    internal double[] Progress { get; }

    internal double[] EvaporationMultiplier { get; }

    internal double[] GrowthMultiplier { get; }

    internal Phase[] Phases { get; }

    internal int[] Flushes { get; }

    /// <summary>Flushes since the last topping up.</summary>
    internal int[] FlushesOfFilling { get; }

    internal int[] PoorDays { get; }

    internal int[] FrostNights { get; }

    /// <summary>Day since inoculation on which the bed first became ready.</summary>
    internal int[] FirstReady { get; }

    /// <summary>The rest follows a flush that was picked, not one that was lost.</summary>
    internal bool[] RestsFromPicking { get; }

    /// <summary>Water that reached the layer on each of the last days, as a ring of days.</summary>
    internal double[] Inflow { get; private set; }

    internal int SoakDays { get; private set; }

    /// <summary>Bed temperature on each of the last ten days, as a ring of days.</summary>
    internal double[] PastBedTemperature { get; }

    /// <summary>Whether any future is in a phase that grows by the beta response; saves computing it where none is.</summary>
    internal bool MyceliumGrows { get; set; }

    /// <summary>Puts the bed at the evening before its first day, the same in all futures.</summary>
    internal void Start(BedPlan plan, in BedDay first, double bed, double soil)
    {
        // Never below the practical lower limit, from which the layer could not dry further either.
        Array.Fill(Water, Math.Max(first.Low, first.Capacity * plan.Bed.Wetness));
        Array.Clear(Mulch);
        Array.Fill(BedTemperature, bed);
        Array.Fill(SoilTemperature, soil);
        Array.Clear(SpawnRun);
        Array.Clear(Progress);
        Array.Fill(EvaporationMultiplier, plan.Bed.EvaporationMultiplier);
        Array.Fill(GrowthMultiplier, plan.Bed.GrowthMultiplier);
        Array.Clear(Phases);
        Array.Clear(Flushes);
        Array.Clear(FlushesOfFilling);
        Array.Clear(PoorDays);
        Array.Clear(FrostNights);
        Array.Fill(FirstReady, NotYet);
        Array.Clear(RestsFromPicking);
        Resize(plan.Bed.Species.Triggers.Soak?.Days ?? 1);
        Array.Clear(Inflow);
        Array.Clear(PastBedTemperature);
        MyceliumGrows = true;
    }

    /// <summary>Takes over where another account stands in its first future, the same in all futures of this one.</summary>
    /// <param name="past">The account up to now.</param>
    public void StartFrom(BedState past)
    {
        ArgumentNullException.ThrowIfNull(past);
        Array.Fill(Water, past.Water[0]);
        Array.Fill(Mulch, past.Mulch[0]);
        Array.Fill(BedTemperature, past.BedTemperature[0]);
        Array.Fill(SoilTemperature, past.SoilTemperature[0]);
        Array.Fill(SpawnRun, past.SpawnRun[0]);
        Array.Fill(Progress, past.Progress[0]);
        Array.Fill(EvaporationMultiplier, past.EvaporationMultiplier[0]);
        Array.Fill(GrowthMultiplier, past.GrowthMultiplier[0]);
        Array.Fill(Phases, past.Phases[0]);
        Array.Fill(Flushes, past.Flushes[0]);
        Array.Fill(FlushesOfFilling, past.FlushesOfFilling[0]);
        Array.Fill(PoorDays, past.PoorDays[0]);
        Array.Fill(FrostNights, past.FrostNights[0]);
        Array.Fill(FirstReady, past.FirstReady[0]);
        Array.Fill(RestsFromPicking, past.RestsFromPicking[0]);
        Resize(past.SoakDays);
        for (var day = 0; day < SoakDays; day++)
            Array.Fill(Inflow, past.Inflow[day * past.Stride], day * Stride, Stride);
        for (var day = 0; day < CoolingDays; day++)
            Array.Fill(PastBedTemperature, past.PastBedTemperature[day * past.Stride], day * Stride, Stride);
        MyceliumGrows = true;
    }

    /// <summary>Phase in a future.</summary>
    public Phase PhaseOf(int future) => Phases[future];

    private void Resize(int soakDays)
    {
        SoakDays = soakDays;
        // Kept when it is long enough: the same state serves many beds.
        if (Inflow.Length < soakDays * Stride)
            Inflow = new double[soakDays * Stride];
    }

    internal static Span<System.Numerics.Vector<double>> Vectors(Span<double> values) =>
        MemoryMarshal.Cast<double, System.Numerics.Vector<double>>(values);
}
