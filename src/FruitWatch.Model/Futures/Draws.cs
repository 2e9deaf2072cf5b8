using System.Numerics;
using System.Text;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Model.Futures;

/// <summary>
/// Seeded draws: the same seed gives the same numbers on every machine and in every version. Not for secrets; not to be
/// shared between threads.
/// </summary>
/// <remarks>
/// xoshiro256** (Blackman &amp; Vigna 2018, "Scrambled linear pseudorandom number generators", ACM Trans. Math. Softw. 47:36),
/// its state filled by SplitMix64 (Steele, Lea &amp; Flood 2014, OOPSLA), as its authors advise.
/// </remarks>
public sealed class Draws
{
    private const ulong GoldenGamma = 0x9E3779B97F4A7C15;
    private const ulong FnvOffset = 0xCBF29CE484222325; // FNV-1a of 64 bits (Fowler, Noll & Vo)
    private const ulong FnvPrime = 0x100000001B3;

    private readonly ulong seed;
    private ulong s0, s1, s2, s3;
    private double spareNormal = double.NaN;

    /// <summary>Draws from a seed; any will do, 0 too.</summary>
    public Draws(ulong seed)
    {
        this.seed = seed;
        var filler = seed;
        s0 = SplitMix64(ref filler);
        s1 = SplitMix64(ref filler);
        s2 = SplitMix64(ref filler);
        s3 = SplitMix64(ref filler);
    }

    internal Draws(ulong s0, ulong s1, ulong s2, ulong s3) => (this.s0, this.s1, this.s2, this.s3) = (s0, s1, s2, s3);

    /// <summary>The draws of a site's outlook: a repeated run repeats its numbers, another site or day has others.</summary>
    /// <param name="siteKey">Names the site; stays the same as long as the site does.</param>
    /// <param name="issued">Day of issue.</param>
    public static Draws For(string siteKey, LocalDate issued)
    {
        ArgumentNullException.ThrowIfNull(siteKey);
        return new Draws(Fnv1a(Encoding.UTF8.GetBytes($"{siteKey}|{LocalDatePattern.Iso.Format(issued)}")));
    }

    /// <summary>
    /// Draws of their own for one purpose, from the seed alone: how many numbers one purpose takes does not move another's.
    /// </summary>
    /// <param name="purpose">Number of the purpose.</param>
    /// <param name="index">Which of many within the purpose, such as a member.</param>
    public Draws Stream(int purpose, int index = 0)
    {
        var mixed = seed ^ ((ulong)(uint)purpose << 32 | (uint)index);
        return new Draws(SplitMix64(ref mixed));
    }

    /// <summary>Evenly spread from 0 up to, but not including, 1.</summary>
    public double Uniform() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Normal with mean 0 and standard deviation 1.</summary>
    /// <remarks>Polar method (Marsaglia &amp; Bray 1964, SIAM Rev. 6:260).</remarks>
    public double Normal()
    {
        if (!double.IsNaN(spareNormal))
        {
            var spare = spareNormal;
            spareNormal = double.NaN;
            return spare;
        }

        double u, v, square;
        do
        {
            u = 2 * Uniform() - 1;
            v = 2 * Uniform() - 1;
            square = u * u + v * v;
        }
        while (square is >= 1 or 0);

        var scale = Math.Sqrt(-2 * Math.Log(square) / square);
        spareNormal = v * scale;
        return u * scale;
    }

    /// <summary>A whole number from 0 up to, but not including, <paramref name="n"/>, each as likely as the next.</summary>
    /// <param name="n">At least 1.</param>
    public int Below(int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        return (int)Math.BigMul(Next(), (ulong)n, out _);
    }

    /// <summary>Exponential with mean 1.</summary>
    public double Exponential() => -Math.Log(1 - Uniform());

    /// <summary>Chi-square: the sum of that many squared normals.</summary>
    /// <param name="degrees">Degrees of freedom, at least 1.</param>
    public double ChiSquare(int degrees)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degrees, 1);
        var sum = 0.0;
        for (var i = 0; i < degrees / 2; i++)
            sum += 2 * Exponential(); // two degrees of freedom: an exponential with mean 2
        if (degrees % 2 == 1 && Normal() is var odd)
            sum += odd * odd;
        return sum;
    }

    /// <summary>The same things in a drawn order (Fisher–Yates).</summary>
    public T[] Shuffled<T>(IEnumerable<T> things)
    {
        T[] order = [.. things];
        for (var i = order.Length - 1; i > 0; i--)
        {
            var j = Below(i + 1);
            (order[i], order[j]) = (order[j], order[i]);
        }

        return order;
    }

    internal ulong Next()
    {
        var result = BitOperations.RotateLeft(s1 * 5, 7) * 9;
        var shifted = s1 << 17;
        s2 ^= s0;
        s3 ^= s1;
        s1 ^= s2;
        s0 ^= s3;
        s2 ^= shifted;
        s3 = BitOperations.RotateLeft(s3, 45);
        return result;
    }

    internal static ulong SplitMix64(ref ulong state)
    {
        var z = state += GoldenGamma;
        z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9;
        z = (z ^ z >> 27) * 0x94D049BB133111EB;
        return z ^ z >> 31;
    }

    internal static ulong Fnv1a(ReadOnlySpan<byte> bytes)
    {
        var hash = FnvOffset;
        foreach (var b in bytes)
            hash = (hash ^ b) * FnvPrime;
        return hash;
    }
}
