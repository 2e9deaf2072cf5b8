namespace FruitWatch.Model.Futures;

/// <summary>The normal distribution with mean 0 and standard deviation 1, also far out in its tails.</summary>
internal static class StandardNormal
{
    private const double Saturates = 8.5; // beyond it the distribution is less than 1e-16 from 0 or 1

    /// <summary>Density at z.</summary>
    public static double Density(double z) => Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);

    /// <summary>Share of the draws below z, with an absolute error below 1e-15; for small tails see <see cref="Above"/>.</summary>
    /// <remarks>Marsaglia 2004, J. Stat. Softw. 11(4): ½ + φ(z)(z + z³/3 + z⁵/(3·5) + …).</remarks>
    public static double Below(double z)
    {
        if (double.IsNaN(z))
            throw new ArgumentOutOfRangeException(nameof(z), z, "Not a number.");
        if (Math.Abs(z) > Saturates)
            return z < 0 ? 0 : 1;
        double sum = 0, term = z;
        for (var i = 3; sum + term != sum; i += 2)
        {
            sum += term;
            term *= z * z / i;
        }

        return 0.5 + sum * Density(z);
    }

    /// <summary>z below which a share of the draws falls.</summary>
    /// <param name="p">Between 0 and 1, both left out.</param>
    /// <remarks>
    /// Wichura 1988, "Algorithm AS 241: The percentage points of the normal distribution", Appl. Stat. 37:477–484, routine PPND16;
    /// about 1 part in 10¹⁶.
    /// </remarks>
    public static double Quantile(double p)
    {
        if (!(p is > 0 and < 1))
            throw new ArgumentOutOfRangeException(nameof(p), p, "The quantiles of 0 and 1 are infinite.");

        var q = p - 0.5;
        if (Math.Abs(q) <= 0.425)
        {
            var r = 0.180625 - q * q;
            return q * Polynomial(r, s_middleAbove) / Polynomial(r, s_middleBelow);
        }

        var tail = Math.Sqrt(-Math.Log(q < 0 ? p : 1 - p));
        var z = tail <= 5
            ? Polynomial(tail - 1.6, s_tailAbove) / Polynomial(tail - 1.6, s_tailBelow)
            : Polynomial(tail - 5, s_farAbove) / Polynomial(tail - 5, s_farBelow);
        return q < 0 ? -z : z;
    }

    /// <summary>Share of the draws above z, to 8 digits even where it is tiny.</summary>
    /// <remarks>Hart's rational function and, from 5√2 on, a continued fraction; as given by West 2005, Wilmott Magazine, May, 70–76.</remarks>
    public static double Above(double z)
    {
        var distance = Math.Abs(z);
        var density = Math.Exp(-distance * distance / 2);
        var tail = distance < 7.07106781186547
            ? density * Polynomial(distance, s_hartAbove) / Polynomial(distance, s_hartBelow)
            : density / (distance + 1 / (distance + 2 / (distance + 3 / (distance + 4 / (distance + 0.65))))) / Math.Sqrt(2 * Math.PI);
        return z < 0 ? 1 - tail : tail;
    }

    /// <summary>Share of the draws between two values, without loss where both lie in one tail.</summary>
    public static double Between(double low, double high) =>
        low > 0 ? Above(low) - Above(high)
        : high < 0 ? Above(-high) - Above(-low)
        : 1 - Above(high) - Above(-low);

    /// <summary>Lowest power first.</summary>
    private static double Polynomial(double x, ReadOnlySpan<double> coefficients)
    {
        var sum = 0.0;
        for (var i = coefficients.Length - 1; i >= 0; i--)
            sum = sum * x + coefficients[i];
        return sum;
    }

    private static readonly double[] s_middleAbove =
    [
        3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3, 1.3731693765509461125e4,
        4.5921953931549871457e4, 6.7265770927008700853e4, 3.3430575583588128105e4, 2.5090809287301226727e3,
    ];

    private static readonly double[] s_middleBelow =
    [
        1, 4.2313330701600911252e1, 6.8718700749205790830e2, 5.3941960214247511077e3,
        2.1213794301586595867e4, 3.9307895800092710610e4, 2.8729085735721942674e4, 5.2264952788528545610e3,
    ];

    private static readonly double[] s_tailAbove =
    [
        1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0, 3.64784832476320460504e0,
        1.27045825245236838258e0, 2.41780725177450611770e-1, 2.27238449892691845833e-2, 7.74545014278341407640e-4,
    ];

    private static readonly double[] s_tailBelow =
    [
        1, 2.05319162663775882187e0, 1.67638483018380384940e0, 6.89767334985100004550e-1,
        1.48103976427480074590e-1, 1.51986665636164571966e-2, 5.47593808499534494600e-4, 1.05075007164441684324e-9,
    ];

    private static readonly double[] s_farAbove =
    [
        6.65790464350110377720e0, 5.46378491116411436990e0, 1.78482653991729133580e0, 2.96560571828504891230e-1,
        2.65321895265761230930e-2, 1.24266094738807843860e-3, 2.71155556874348757815e-5, 2.01033439929228813265e-7,
    ];

    private static readonly double[] s_farBelow =
    [
        1, 5.99832206555887937690e-1, 1.36929880922735805310e-1, 1.48753612908506148525e-2,
        7.86869131145613259100e-4, 1.84631831751005468180e-5, 1.42151175831644588870e-7, 2.04426310338993978564e-15,
    ];

    private static readonly double[] s_hartAbove =
    [
        220.206867912376, 221.213596169931, 112.079291497871, 33.912866078383, 6.37396220353165, 0.700383064443688,
        3.52624965998911e-2,
    ];

    private static readonly double[] s_hartBelow =
    [
        440.413735824752, 793.826512519948, 637.333633378831, 296.564248779674, 86.7807322029461, 16.064177579207,
        1.75566716318264, 8.83883476483184e-2,
    ];
}
