using System.Numerics;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Responses;

/// <summary>
/// Growth of mycelium by temperature: 0 at the base, 1 at the optimum, 0 at the ceiling, on a smooth skewed curve.
/// </summary>
/// <remarks>Yin, Kropff, McLaren and Visperas 1995, Agric. For. Meteorol. 77:1–16, with the exponent as the last parameter.</remarks>
public readonly struct BetaResponse(SpawnRun cardinals)
{
    private readonly double tBase = cardinals.TBase;
    private readonly double tOpt = cardinals.TOpt;
    private readonly double tCeiling = cardinals.TCeiling;
    private readonly double q = cardinals.Q;
    private readonly double skew = (cardinals.TOpt - cardinals.TBase) / (cardinals.TCeiling - cardinals.TOpt);

    /// <summary>Response at a temperature. 0…1</summary>
    public double At(double t) =>
        t <= tBase || t >= tCeiling
            ? 0
            : Math.Pow((tCeiling - t) / (tCeiling - tOpt) * Math.Pow((t - tBase) / (tOpt - tBase), skew), q);

    /// <summary>The same for many temperatures at once; agrees with the one above to 1e-13.</summary>
    public Vector<double> At(Vector<double> t)
    {
        var inside = Vector.BitwiseAnd(
            Vector.GreaterThan(t, new Vector<double>(tBase)),
            Vector.LessThan(t, new Vector<double>(tCeiling)));
        // Outside lanes are computed at the optimum, so that no logarithm of a negative number arises, and dropped after.
        var safe = Vector.ConditionalSelect(inside, t, new Vector<double>(tOpt));
        var fall = (new Vector<double>(tCeiling) - safe) / new Vector<double>(tCeiling - tOpt);
        var rise = (safe - new Vector<double>(tBase)) / new Vector<double>(tOpt - tBase);
        var power = new Vector<double>(q) * (Vector.Log(fall) + new Vector<double>(skew) * Vector.Log(rise));
        return Vector.ConditionalSelect(inside, Vector.Exp(power), Vector<double>.Zero);
    }
}
