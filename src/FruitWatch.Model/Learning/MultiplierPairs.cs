using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Learning;

/// <summary>
/// The pairs of multipliers that a bed is tried with: log-normal about the bed's own, spread evenly over the plane and not left
/// to chance, so that 256 of them leave no part of it empty.
/// </summary>
/// <remarks>
/// The additive sequence of the plastic number (Roberts 2018, "The unreasonable effectiveness of quasirandom sequences"), moved by a
/// seeded shift (Cranley and Patterson 1976, SIAM J. Numer. Anal. 13:904–914), through the normal quantile.
/// </remarks>
internal sealed class MultiplierPairs
{
    private const int Strips = 8; // the side of a square of 64 members
    private const double Plastic = 1.32471795724474602596;
    private const double Smallest = 1.0 / (1L << 53); // keeps a quantile finite

    private readonly double[] walkKeys;
    private readonly int[] walk;

    public MultiplierPairs(int count)
    {
        Evaporation = new double[count];
        Growth = new double[count];
        walkKeys = new double[count];
        walk = new int[count];
    }

    public double[] Evaporation { get; }

    public double[] Growth { get; }

    /// <summary>
    /// The pairs in an order in which neighbours are alike: through the plane in strips, up the one and down the next. Systematic
    /// resampling along it keeps the spread in both directions (Gerber, Chopin and Whiteley 2019, Ann. Stat. 47:2236–2260).
    /// </summary>
    public ReadOnlySpan<int> Walk => walk;

    public void Draw(Bed bed, LearningDefaults spread, Draws draws)
    {
        var (shiftE, shiftR) = (draws.Uniform(), draws.Uniform());
        for (var i = 0; i < walk.Length; i++)
        {
            var e = Fraction(shiftE + i / Plastic);
            var r = Fraction(shiftR + i / (Plastic * Plastic));
            Evaporation[i] = bed.EvaporationMultiplier * Math.Exp(spread.SigmaEvaporation * StandardNormal.Quantile(e));
            Growth[i] = bed.GrowthMultiplier * Math.Exp(spread.SigmaGrowth * StandardNormal.Quantile(r));
            var strip = (int)(e * Strips);
            walk[i] = i;
            walkKeys[i] = strip + (strip % 2 == 0 ? r : 1 - r);
        }

        Array.Sort(walkKeys, walk);
    }

    private static double Fraction(double x) => Math.Max(Smallest, x - Math.Floor(x));
}
