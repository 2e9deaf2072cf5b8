using CsCheck;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>Forecasts and what came of them, at random.</summary>
internal static class AnyForecasts
{
    /// <summary>Chances as they are issued, some of them again and again, some of them certain.</summary>
    public static readonly Gen<double> Chance = Gen.Frequency((3, Gen.Int[0, 10].Select(tenths => tenths / 10.0)), (1, Gen.Double[0, 1]));

    public static readonly Gen<(double[] Chances, bool[] Outcomes)> Some =
        Gen.Select(Chance, Gen.Bool).Array[1, 60].Select(pairs => (pairs.Select(p => p.Item1).ToArray(), pairs.Select(p => p.Item2).ToArray()));

    /// <summary>Members of an ensemble, some of them equal.</summary>
    public static readonly Gen<double[]> Ensemble = Gen.Frequency((1, Gen.Int[-20, 20].Select(whole => (double)whole)), (1, Gen.Double[-20, 20])).Array[1, 30];
}
