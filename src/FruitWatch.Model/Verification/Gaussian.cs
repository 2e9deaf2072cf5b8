namespace FruitWatch.Model.Verification;

/// <summary>The normal distribution with mean 0 and standard deviation 1.</summary>
internal static class Gaussian
{
    private const double Saturates = 8.5; // beyond it Φ is less than 1e-16 from 0 or 1

    /// <summary>φ(z).</summary>
    public static double Density(double z) => Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);

    /// <summary>Φ(z), absolute error below 1e-15.</summary>
    /// <remarks>Marsaglia 2004, J. Stat. Softw. 11(4): ½ + φ(z)(z + z³/3 + z⁵/(3·5) + …).</remarks>
    public static double Cumulative(double z)
    {
        if (Math.Abs(z) > Saturates)
            return z < 0 ? 0 : 1;
        double sum = 0, term = Finite.Checked(z);
        for (var i = 3; sum + term != sum; i += 2)
        {
            sum += term;
            term *= z * z / i;
        }

        return 0.5 + sum * Density(z);
    }

    /// <summary>z with Φ(z) = <paramref name="p"/>.</summary>
    /// <param name="p">Between 0 and 1, both left out.</param>
    public static double Quantile(double p)
    {
        if (!(p is > 0 and < 1))
            throw new ArgumentOutOfRangeException(nameof(p), p, "The quantiles of 0 and 1 are infinite.");
        if (p < 0.5)
            return -Quantile(1 - p);

        // Halving, for its certainty: far out Φ is so flat that the last bit of p would throw Newton's method off.
        double low = 0, high = Saturates;
        while (true)
        {
            var z = (low + high) / 2;
            if (z <= low || z >= high)
                return z;
            if (Cumulative(z) < p)
                low = z;
            else
                high = z;
        }
    }
}
