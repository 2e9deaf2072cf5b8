using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>Forecasts of one and the same chance.</summary>
/// <param name="Chance">Chance that was issued. 0…1</param>
/// <param name="Weight">How many they are, or their share of all. 0…</param>
/// <param name="Frequency">Share of them that the event followed. 0…1</param>
public readonly record struct ForecastClass(double Chance, double Weight, double Frequency);

/// <summary>What a Brier score is made of: reliability − resolution + uncertainty.</summary>
/// <param name="Weight">Number of forecasts, or the sum of their shares.</param>
/// <param name="BaseRate">Share of all forecasts that the event followed. 0…1</param>
/// <param name="Reliability">How far the frequencies lie from the chances; 0 at best. 0…1</param>
/// <param name="Resolution">How far the frequencies lie from the base rate; the uncertainty at best. 0…¼</param>
/// <param name="Uncertainty">Score of always saying the base rate. 0…¼</param>
/// <remarks>
/// Murphy 1973, J. Appl. Meteor. 12:595–600. Exact only where all forecasts of a class have the same chance; rounding into
/// wider classes leaves a rest within them (Stephenson and others 2008, Wea. Forecasting 23:752–757).
/// </remarks>
public readonly record struct MurphyDecomposition(
    double Weight, double BaseRate, double Reliability, double Resolution, double Uncertainty)
{
    /// <summary>The Brier score. 0…1</summary>
    public double Score => Reliability - Resolution + Uncertainty;

    /// <summary>Skill over always saying the base rate, which is known only afterwards; null where the event came always or never.</summary>
    public double? Skill => Brier.Skill(Score, Uncertainty);

    /// <summary>Decomposes the score of forecasts in classes.</summary>
    /// <param name="classes">At least one with a weight above 0.</param>
    /// <exception cref="ArgumentException">No forecast in any class, or a weight below 0.</exception>
    public static MurphyDecomposition Of(IReadOnlyCollection<ForecastClass> classes)
    {
        ArgumentNullException.ThrowIfNull(classes);
        double weight = 0, events = 0;
        foreach (var c in classes)
        {
            if (!(c.Weight >= 0))
                throw new ArgumentOutOfRangeException(nameof(classes), c.Weight, "The weight of a class is 0 or more.");
            weight += c.Weight;
            events += c.Weight * Chance.Checked(c.Frequency);
        }

        if (weight == 0)
            throw new ArgumentException("No class has a forecast.", nameof(classes));

        var baseRate = events / weight;
        double reliability = 0, resolution = 0;
        foreach (var c in classes)
        {
            reliability += c.Weight * Square(Chance.Checked(c.Chance) - c.Frequency);
            resolution += c.Weight * Square(c.Frequency - baseRate);
        }

        return new MurphyDecomposition(weight, baseRate, reliability / weight, resolution / weight, baseRate * (1 - baseRate));
    }

    private static double Square(double x) => x * x;
}
