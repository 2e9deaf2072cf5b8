namespace FruitWatch.Model.Account;

/// <summary>What one day brought, in each future: factors, temperatures, events, and optionally the flows of water.</summary>
/// <remarks>Overwritten every day; a thread keeps one.</remarks>
public sealed class DayResult
{
    /// <summary>Makes room for some futures.</summary>
    /// <param name="futures">At least 1.</param>
    /// <param name="withFlows">Whether the flows of water are written, too.</param>
    public DayResult(int futures, bool withFlows = false)
    {
        var stride = Lanes.Padded(futures);
        Moisture = new double[stride];
        Air = new double[stride];
        MoistureFactor = new double[stride];
        PinFactor = new double[stride];
        GrowFactor = new double[stride];
        PinZone = new double[stride];
        GroundMin = new double[stride];
        MyceliumGrowth = new double[stride];
        Events = new AccountEvent[stride];
        Unmet = new Unmet[stride];
        Flows = withFlows ? new WaterFlows(stride) : null;
    }

    /// <summary>Relative moisture w at the day's end.</summary>
    internal double[] Moisture { get; }

    /// <summary>Air-filled porosity at the day's end.</summary>
    internal double[] Air { get; }

    internal double[] MoistureFactor { get; }

    internal double[] PinFactor { get; }

    internal double[] GrowFactor { get; }

    internal double[] PinZone { get; }

    internal double[] GroundMin { get; }

    /// <summary>fβ(Tb)·g, where <see cref="BedState.MyceliumGrows"/>.</summary>
    internal double[] MyceliumGrowth { get; }

    internal AccountEvent[] Events { get; }

    internal Unmet[] Unmet { get; }

    internal WaterFlows? Flows { get; }

    /// <summary>What happened in a future.</summary>
    public AccountEvent EventOf(int future) => Events[future];

    /// <summary>Relative moisture in a future: 0 at the lower limit, 1 at container capacity.</summary>
    public double MoistureOf(int future) => Moisture[future];

    /// <summary>Air-filled porosity in a future. [m³/m³]</summary>
    public double AirOf(int future) => Air[future];
}

/// <summary>Triggers that a ready bed still waits for.</summary>
[Flags]
internal enum Unmet : byte
{
    None = 0,
    Soak = 1,
    Frost = 2,
    Cooling = 4,
}

/// <summary>Where the day's water went. [mm]</summary>
internal sealed class WaterFlows(int stride)
{
    /// <summary>Rain that reached the bed, after covers and trees.</summary>
    public double[] Rain { get; } = new double[stride];

    /// <summary>Rain that the mulch kept.</summary>
    public double[] ToMulch { get; } = new double[stride];

    /// <summary>Rain and given water that reached the layer.</summary>
    public double[] Inflow { get; } = new double[stride];

    /// <summary>What ran through without being absorbed.</summary>
    public double[] PassedThrough { get; } = new double[stride];

    /// <summary>What drained from above container capacity.</summary>
    public double[] Drained { get; } = new double[stride];

    /// <summary>Evaporation from the mulch.</summary>
    public double[] FromMulch { get; } = new double[stride];

    /// <summary>Evaporation from the layer.</summary>
    public double[] Evaporated { get; } = new double[stride];

    /// <summary>What fresh material brought, less what shrinking pressed out.</summary>
    public double[] Filling { get; } = new double[stride];

    /// <summary>What a squeeze test or a measured moisture added.</summary>
    public double[] Corrected { get; } = new double[stride];
}
