namespace FruitWatch.Model.Catalogue;

/// <summary>What a species needs, as the bed model reads it. Temperatures in °C, water in mm, times in days.</summary>
/// <param name="Key">Stable name in the catalogue and in the store, such as <c>wine-cap</c>.</param>
/// <param name="Name">The trade's English name.</param>
/// <param name="ScientificName">Binomial.</param>
/// <param name="SpawnRun">How the mycelium grows through the substrate.</param>
/// <param name="Pinning">When pins form.</param>
/// <param name="Growing">When pins grow to picking size.</param>
/// <param name="PickingDays">How long a flush can be picked. [d]</param>
/// <param name="RestingDays">Rest between flushes at the best temperature and moisture. [d]</param>
/// <param name="Triggers">What a ready bed waits for.</param>
/// <param name="Materials">Keys of the materials it is grown on, the usual one first.</param>
/// <param name="Standing">How well these numbers are known, in words.</param>
public sealed record Species(
    string Key,
    string Name,
    string ScientificName,
    SpawnRun SpawnRun,
    Pinning Pinning,
    Growing Growing,
    double PickingDays,
    double RestingDays,
    Triggers Triggers,
    IReadOnlyList<string> Materials,
    string Standing)
{
    /// <summary>Dangerous fungi that can be taken for it, and how to tell. At least one for every species.</summary>
    public IReadOnlyList<Lookalike> Lookalikes { get; init; } = [];

    /// <summary>Advice that holds for this species beyond the general safety words.</summary>
    public IReadOnlyList<Caution> Cautions { get; init; } = [];

    /// <summary>Where each value comes from: the field's path in the catalogue file, such as <c>spawn_run/t_base</c>, to its source.</summary>
    public IReadOnlyDictionary<string, string> Sources { get; init; } = new Dictionary<string, string>();

    /// <summary>Names in other languages, by two-letter language code.</summary>
    public IReadOnlyDictionary<string, string> Names { get; init; } = new Dictionary<string, string>();

    /// <summary><see cref="Standing"/> in other languages, by two-letter language code.</summary>
    public IReadOnlyDictionary<string, string> Standings { get; init; } = new Dictionary<string, string>();

    /// <summary>Its name in a language; the English one where there is none.</summary>
    public string NameIn(string language) => Names.GetValueOrDefault(language, Name);

    /// <summary>How well its numbers are known, in a language; in English where there are no such words.</summary>
    public string StandingIn(string language) => Standings.GetValueOrDefault(language, Standing);
}

/// <summary>Growth of the mycelium through the substrate.</summary>
/// <param name="TBase">No growth at or below. [°C]</param>
/// <param name="TOpt">Fastest growth. [°C]</param>
/// <param name="TCeiling">No growth at or above. [°C]</param>
/// <param name="Q">Sharpness of the response, 1.0–1.7 (Yin et al. 1995, exponent c).</param>
/// <param name="DaysAtOptimum">Days to run through a bed at the best temperature and moisture. [d]</param>
/// <param name="SpawnRate">Spawn rate that <paramref name="DaysAtOptimum"/> stands for. [kg/m²]</param>
/// <param name="EarliestReadyDays">Never ready sooner after inoculation. [d]</param>
/// <param name="THarm">A day of bed temperature at or above this sets the run back. [°C]</param>
public sealed record SpawnRun(
    double TBase, double TOpt, double TCeiling, double Q, double DaysAtOptimum, double SpawnRate, int EarliestReadyDays, double THarm);

/// <summary>Four corners of a trapezoid over temperature: 0 up to the first, 1 from the second to the third, 0 from the fourth. [°C]</summary>
public sealed record Band(double ZeroBelow, double FullFrom, double FullTo, double ZeroAbove);

/// <summary>Formation of pins.</summary>
/// <param name="Band">Temperatures of the pin zone. [°C]</param>
/// <param name="Days">Days from trigger to pins at the best conditions. [d]</param>
public sealed record Pinning(Band Band, double Days);

/// <summary>Growth from pins to picking size.</summary>
/// <param name="Band">Temperatures of the pin zone. [°C]</param>
/// <param name="Days">Days from pins to the first pick at the best conditions. [d]</param>
/// <param name="KillingFrost">Ground minimum that loses the flush. [°C]</param>
public sealed record Growing(Band Band, double Days, double KillingFrost);

/// <summary>What a ready bed waits for. All that are present must be met on the same day.</summary>
public sealed record Triggers(SoakTrigger? Soak, FrostTrigger? Frost, CoolingTrigger? Cooling);

/// <summary>Water reaching the bed over some days.</summary>
/// <param name="Mm">At least so much. [mm]</param>
/// <param name="Days">Over so many days, today included. [d]</param>
public sealed record SoakTrigger(double Mm, int Days);

/// <summary>Frosty nights since the bed became ready, in this cold year.</summary>
/// <param name="GroundMin">A night counts when the ground is this cold. [°C]</param>
/// <param name="Nights">So many nights.</param>
public sealed record FrostTrigger(double GroundMin, int Nights);

/// <summary>A fall of temperature.</summary>
/// <param name="Delta">Air this much colder than the bed was over the last ten days. [°C]</param>
/// <param name="Mark">Or the bed at or below this. [°C]</param>
public sealed record CoolingTrigger(double Delta, double Mark);
