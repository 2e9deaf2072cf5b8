using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Beds;

/// <summary>
/// Something done to or seen at a bed. Entries correct the account: it is recomputed from all of them, so that an edited or
/// undone entry leaves no trace. Entries of one day act in order of <see cref="Time"/>, then in the order given.
/// </summary>
/// <param name="Date">The site's local day on which it counts.</param>
public abstract record LogEntry(LocalDate Date)
{
    /// <summary>Time of day; orders entries of one day.</summary>
    public LocalTime Time { get; init; } = LocalTime.Noon;
}

/// <summary>Water given to the layer. [mm = L/m²]</summary>
public sealed record WaterGiven(LocalDate Date, double Mm) : LogEntry(Date);

/// <summary>A rain gauge reading; takes the place of that day's rain. [mm]</summary>
public sealed record GaugeReading(LocalDate Date, double Mm) : LogEntry(Date);

/// <summary>A handful squeezed: sets the relative moisture to 0.2, 0.8 or 1.3 at the end of the day's water step.</summary>
public sealed record SqueezeTest(LocalDate Date, Squeeze Result) : LogEntry(Date);

/// <summary>A measured moisture, wet basis: water over water and dry mass. 0…1</summary>
public sealed record MoistureMeasured(LocalDate Date, double WetBasis) : LogEntry(Date);

/// <summary>Cover put on or taken off; counts from that day.</summary>
public sealed record CoverChanged(LocalDate Date, Cover Cover) : LogEntry(Date);

/// <summary>Share of the bed that white mycelium was seen to have reached; the run is at least that far. 0…1</summary>
public sealed record MyceliumSeen(LocalDate Date, double Share) : LogEntry(Date);

/// <summary>Pins seen: the bed is growing a flush from the end of this day.</summary>
public sealed record PinsSeen(LocalDate Date) : LogEntry(Date);

/// <summary>The bed was looked over and had no pins. The account does not change; forecasts of pins are held against it.</summary>
public sealed record NoPinsFound(LocalDate Date) : LogEntry(Date);

/// <summary>Mushrooms picked: the bed is in picking from the end of this day. [kg]</summary>
public sealed record Picked(LocalDate Date, double Kg) : LogEntry(Date);

/// <summary>The flush is over: the bed rests from the end of this day.</summary>
public sealed record FlushOver(LocalDate Date) : LogEntry(Date);

/// <summary>Fresh material laid on top, wetted to its container capacity.</summary>
public sealed record ToppedUp(LocalDate Date, Material Material, double Depth) : LogEntry(Date);

/// <summary>Mould or another fungus seen. Noted; the account does not change.</summary>
public sealed record ContaminationSeen(LocalDate Date) : LogEntry(Date);

/// <summary>Spawn taken from this bed to start another. Noted; the account does not change.</summary>
public sealed record SpawnTaken(LocalDate Date) : LogEntry(Date);

/// <summary>The grower gave the bed up: spent from the end of this day.</summary>
public sealed record BedSpent(LocalDate Date) : LogEntry(Date);

/// <summary>What a squeezed handful does.</summary>
public enum Squeeze : byte
{
    /// <summary>Falls apart: below about 40 % water.</summary>
    Crumbles,

    /// <summary>Holds together and gives a drop or two: 50–60 %.</summary>
    Right,

    /// <summary>Drips steadily: above 65 %.</summary>
    Dripping,
}
