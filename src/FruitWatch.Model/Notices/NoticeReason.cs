using FruitWatch.Model.Futures;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>
/// Why a notice was issued, free of any language: a code and the numbers behind it, as they were on the morning of issue.
/// </summary>
/// <param name="Code">Which sentence.</param>
/// <param name="Numbers">The numbers that the sentence needs.</param>
/// <remarks>Equal when code and numbers are equal. Names of codes and numbers are kept in the store.</remarks>
public sealed record NoticeReason(ReasonCode Code, IReadOnlyDictionary<ReasonNumber, double> Numbers)
{
    /// <summary>A reason with its numbers.</summary>
    public static NoticeReason Of(ReasonCode code, params ReadOnlySpan<(ReasonNumber Name, double Value)> numbers)
    {
        var named = new Dictionary<ReasonNumber, double>();
        foreach (var (name, value) in numbers)
            named.Add(name, value);
        return new NoticeReason(code, named);
    }

    /// <summary>The same reason with both courses of action quoted; unchanged where they were not compared.</summary>
    internal NoticeReason Quoting(WhatIf? whatIf, LocalDate today)
    {
        if (whatIf is null)
            return this;
        var numbers = new Dictionary<ReasonNumber, double>(Numbers)
        {
            [ReasonNumber.OutcomeCounts] = (double)whatIf.Counts,
            [ReasonNumber.ChanceDays] = Period.DaysBetween(today, whatIf.By),
            [ReasonNumber.BadDaysAlone] = Math.Round(whatIf.BadDaysAlone, 1),
            [ReasonNumber.BadDaysActed] = Math.Round(whatIf.BadDaysActed, 1),
        };
        if (whatIf.Counts != WhatCounts.Moisture)
        {
            numbers[ReasonNumber.ChanceAlone] = Chance.Of(whatIf.Alone, whatIf.Members);
            numbers[ReasonNumber.ChanceActed] = Chance.Of(whatIf.Acted, whatIf.Members);
        }

        return new NoticeReason(Code, numbers);
    }

    /// <summary>One of its numbers; 0 where it has none of that name.</summary>
    public double this[ReasonNumber name] => Numbers.GetValueOrDefault(name);

    /// <inheritdoc/>
    public bool Equals(NoticeReason? other) =>
        other is not null && Code == other.Code && Numbers.Count == other.Numbers.Count
        && Numbers.All(n => other.Numbers.TryGetValue(n.Key, out var value) && value.Equals(n.Value));

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Code, Numbers.Count);
}

/// <summary>Why a notice was issued.</summary>
public enum ReasonCode : byte
{
    /// <summary>The layer falls below its water mark. Moisture, WaterMark, RainToCome, Days, Goes, Covered.</summary>
    WaterLow,

    /// <summary>Too little air is left in the layer. Air, AirMark, RainToCome, Days.</summary>
    AirLow,

    /// <summary>Above container capacity, and much rain to come. Moisture, RainToCome, Days.</summary>
    SoakedAndRain,

    /// <summary>The bed would dry below its water mark for want of rain. Moisture, WaterMark, RainToCome, Days.</summary>
    DryAhead,

    /// <summary>Heavy rain would fill the air space. Air, AirMark, RainToCome, Days.</summary>
    RainWouldDrown,

    /// <summary>The bed is, or soon will be, ready to pin. Days until then.</summary>
    ReadyToPin,

    /// <summary>Pins form or a flush grows under the cover. No numbers.</summary>
    FruitingUnderCover,

    /// <summary>The bed is dry and rain is coming that the cover would keep off. Moisture, WaterMark, RainToCome, Days.</summary>
    RainForDryBed,

    /// <summary>A frost that the bed waits for. GroundMin, FrostMark, Nights still missing, Covered, LeadDays.</summary>
    FrostTriggers,

    /// <summary>A frost that would kill the flush. GroundMin, FrostMark, Covered, LeadDays.</summary>
    FrostThreatens,

    /// <summary>Heat on an uncovered bed whose spawn is still young. Tmax, HeatMark, Days since inoculation, LeadDays.</summary>
    HeatOnYoungSpawn,

    /// <summary>The bed itself comes near the heat that harms its spawn. BedTemperature, HarmTemperature, Covered, LeadDays.</summary>
    BedNearHarm,

    /// <summary>The account reaches pins. EarlyDays, LateDays, Days until then.</summary>
    PinsAhead,

    /// <summary>The account reaches a flush of picking size. EarlyDays, LateDays, Days until then.</summary>
    HarvestAhead,

    /// <summary>A flush can be picked now. LateDays.</summary>
    FlushReady,

    /// <summary>Nothing was logged for a while. Days since.</summary>
    NothingLogged,

    /// <summary>A year or more since the last fresh material. Days since.</summary>
    YearSinceFilling,

    /// <summary>The filling has given its flushes. Flushes.</summary>
    FillingUsedUp,

    /// <summary>Wind that lifts the cover of a bed. Wind, WindMark, LeadDays.</summary>
    WindLiftsCover,
}

/// <summary>A number of a reason.</summary>
public enum ReasonNumber : byte
{
    /// <summary>Relative moisture that the layer falls to: 0 at the lower limit, 1 at container capacity.</summary>
    Moisture,

    /// <summary>Relative moisture below which to water.</summary>
    WaterMark,

    /// <summary>Rain to come in the open over <see cref="Days"/>. [mm]</summary>
    RainToCome,

    /// <summary>A number of days; what it counts is said by the code. [d]</summary>
    Days,

    /// <summary>In how many goes to give the water.</summary>
    Goes,

    /// <summary>1 where a cover lies on the bed, else 0.</summary>
    Covered,

    /// <summary>Air-filled porosity. 0…1</summary>
    Air,

    /// <summary>Air-filled porosity below which the mycelium lacks air. 0…1</summary>
    AirMark,

    /// <summary>Lowest temperature at the bed's surface. [°C]</summary>
    GroundMin,

    /// <summary>Ground minimum that counts, as a trigger or as a killing frost. [°C]</summary>
    FrostMark,

    /// <summary>A number of nights.</summary>
    Nights,

    /// <summary>Highest air temperature. [°C]</summary>
    Tmax,

    /// <summary>Highest air temperature that counts as heat. [°C]</summary>
    HeatMark,

    /// <summary>Mean temperature of the bed. [°C]</summary>
    BedTemperature,

    /// <summary>Bed temperature that sets the spawn run back. [°C]</summary>
    HarmTemperature,

    /// <summary>Days before the notice's day on which the window opens. [d]</summary>
    EarlyDays,

    /// <summary>Days after the notice's day on which the window closes. [d]</summary>
    LateDays,

    /// <summary>Flushes so far.</summary>
    Flushes,

    /// <summary>Days from the morning on which it was told to the notice's day. [d]</summary>
    LeadDays,

    /// <summary>Chance of what is expected by <see cref="ChanceDays"/>. 0…1</summary>
    Chance,

    /// <summary>Days from the morning on which it was told to the day by which a chance is meant. [d]</summary>
    ChanceDays,

    /// <summary>By what two courses of action were compared: 0 moisture, 1 pins, 2 harvest.</summary>
    OutcomeCounts,

    /// <summary>Chance of pins or harvest when the bed is left alone. 0…1</summary>
    ChanceAlone,

    /// <summary>Chance of pins or harvest when what is advised is done today. 0…1</summary>
    ChanceActed,

    /// <summary>Days on which the bed is too dry or too wet when it is left alone, within <see cref="ChanceDays"/>. [d]</summary>
    BadDaysAlone,

    /// <summary>Days on which the bed is too dry or too wet when what is advised is done today, within <see cref="ChanceDays"/>. [d]</summary>
    BadDaysActed,

    /// <summary>Mean wind of a day 2 m above the ground. [m/s]</summary>
    Wind,

    /// <summary>Mean wind of a day from which on its gusts lift a cover. [m/s]</summary>
    WindMark,
}
