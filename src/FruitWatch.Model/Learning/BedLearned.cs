using System.Collections.Immutable;
using FruitWatch.Model.Account;

namespace FruitWatch.Model.Learning;

/// <summary>What a bed's log tells of its two multipliers, and where the bed stands for each pair of them.</summary>
/// <param name="Evaporation">Multiplier on evaporation.</param>
/// <param name="Growth">Multiplier on the rates of growth.</param>
/// <param name="Weights">Weight of each pair, that is of each lane of <paramref name="End"/>; they add up to 1.</param>
/// <param name="Lanes">
/// The pair that each member of an outlook goes on from, drawn in proportion to the weights, without pairs that a look in the last days
/// contradicts; ascending. Hand it to
/// <see cref="BedState.StartFrom(BedState, ReadOnlySpan{int})"/> together with <paramref name="End"/>.
/// </param>
/// <param name="From">What of the log was used.</param>
/// <param name="LogDisagrees">
/// No pair comes near what the log says. The weights are flattened then, as if all errors were larger, and the pages should say
/// that the bed does not behave as the model expects.
/// </param>
/// <param name="End">
/// The account at the end of the last day, corrected by the log, one lane a pair. Belongs to the <see cref="BedLearning"/> that
/// made it and is overwritten by its next run.
/// </param>
public sealed record BedLearned(
    LearnedMultiplier Evaporation,
    LearnedMultiplier Growth,
    ImmutableArray<double> Weights,
    ImmutableArray<int> Lanes,
    LearnedFrom From,
    bool LogDisagrees,
    BedState End)
{
    /// <summary>Nothing was observed: every pair counts the same, as the catalogue's spreads have it.</summary>
    public bool IsPrior => From.Count == 0;

    /// <summary>Number of equal pairs that would tell as much, 1/Σw² (Kish 1965). 1…number of pairs</summary>
    public double EffectivePairs { get; } = EffectiveNumber(Weights);

    private static double EffectiveNumber(ImmutableArray<double> weights)
    {
        var squares = 0.0;
        foreach (var weight in weights)
            squares += weight * weight;
        return 1 / squares;
    }
}

/// <summary>What is known of a multiplier.</summary>
/// <param name="Mean">Weighted mean.</param>
/// <param name="P5">Below it with a chance of 5 %.</param>
/// <param name="P50">As likely above as below.</param>
/// <param name="P95">Below it with a chance of 95 %.</param>
public readonly record struct LearnedMultiplier(double Mean, double P5, double P50, double P95);

/// <summary>Observations that were learned from.</summary>
/// <param name="SqueezeTests">Squeeze tests.</param>
/// <param name="Moistures">Measured moistures.</param>
/// <param name="MyceliumLooks">Shares of the bed that mycelium was seen to have reached.</param>
/// <param name="PinsDates">Days on which the pins of a new flush were seen.</param>
/// <param name="LooksWithoutPins">Looks that found no pins.</param>
public readonly record struct LearnedFrom(int SqueezeTests, int Moistures, int MyceliumLooks, int PinsDates, int LooksWithoutPins = 0)
{
    /// <summary>All of them.</summary>
    public int Count => SqueezeTests + Moistures + MyceliumLooks + PinsDates + LooksWithoutPins;
}
