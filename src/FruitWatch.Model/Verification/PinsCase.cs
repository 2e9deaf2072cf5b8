namespace FruitWatch.Model.Verification;

/// <summary>One issued forecast of pins within so many days, and what came of it.</summary>
/// <param name="Chance">Chance of pins that was issued. 0…1</param>
/// <param name="PinsCame">Whether pins came within those days. A case needs an answer: pins in the log, or a check that found none.</param>
/// <param name="Season">Season that it belongs to, as its year; forecasts of one season are not independent of each other.</param>
public sealed record PinsCase(double Chance, bool PinsCame, int Season)
{
    /// <summary>Chance of pins that was issued. 0…1</summary>
    public double Chance { get; init; } = Futures.Chance.Checked(Chance);

    /// <summary>How often pins come within as many days at that time of the year; null where the site has no such record. 0…1</summary>
    public double? ClimatologicalChance
    {
        get;
        init => field = value is { } chance ? Futures.Chance.Checked(chance, nameof(ClimatologicalChance)) : null;
    }

    /// <summary>What the <see cref="Verification.RuleOfThumb"/> said on the day of issue; null where the weather did not decide it.</summary>
    public bool? RuleOfThumb { get; init; }

    /// <summary>Score of the date of the pins (<see cref="Crps.OfDays"/>); null where the date is not known. [d]</summary>
    public double? DateCrps { get; init; }

    /// <summary>Days from the first warning to the pins; null where there was none, or no pins. [d]</summary>
    public int? LeadDays { get; init; }
}
