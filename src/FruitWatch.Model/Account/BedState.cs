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
    public void StartFrom(BedState past) => StartFrom(past, []);

    /// <summary>Takes over from another account, each future from one of that account's.</summary>
    /// <param name="past">The account up to now.</param>
    /// <param name="lanes">For every future of this one, the future of the other it goes on from; empty for the first in all.</param>
    public void StartFrom(BedState past, ReadOnlySpan<int> lanes)
    {
        ArgumentNullException.ThrowIfNull(past);
        if (!lanes.IsEmpty && lanes.Length != Futures)
            throw new ArgumentException($"There are {Futures} futures, but {lanes.Length} to go on from.", nameof(lanes));

        Resize(past.SoakDays);
        for (var lane = 0; lane < Stride; lane++)
        {
            var from = lanes.IsEmpty ? 0 : lanes[Math.Min(lane, Futures - 1)];
            Water[lane] = past.Water[from];
            Mulch[lane] = past.Mulch[from];
            BedTemperature[lane] = past.BedTemperature[from];
            SoilTemperature[lane] = past.SoilTemperature[from];
            SpawnRun[lane] = past.SpawnRun[from];
            Progress[lane] = past.Progress[from];
            EvaporationMultiplier[lane] = past.EvaporationMultiplier[from];
            GrowthMultiplier[lane] = past.GrowthMultiplier[from];
            Phases[lane] = past.Phases[from];
            Flushes[lane] = past.Flushes[from];
            FlushesOfFilling[lane] = past.FlushesOfFilling[from];
            PoorDays[lane] = past.PoorDays[from];
            FrostNights[lane] = past.FrostNights[from];
            FirstReady[lane] = past.FirstReady[from];
            RestsFromPicking[lane] = past.RestsFromPicking[from];
            for (var day = 0; day < SoakDays; day++)
                Inflow[day * Stride + lane] = past.Inflow[day * past.Stride + from];
            for (var day = 0; day < CoolingDays; day++)
                PastBedTemperature[day * Stride + lane] = past.PastBedTemperature[day * past.Stride + from];
        }

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
}
