namespace FruitWatch.Model.Verification;

/// <summary>Random numbers that are the same for the same seed, on every machine.</summary>
/// <remarks>SplitMix64: Steele, Lea and Flood 2014, Proc. OOPSLA, 453–472.</remarks>
internal struct Draws(ulong seed)
{
    private ulong state = seed;

    /// <summary>The next 64 bits.</summary>
    public ulong Next()
    {
        state += 0x9E3779B97F4A7C15;
        var z = state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    /// <summary>A whole number from 0 to below a limit; uneven by less than limit/2⁶⁴.</summary>
    public int Below(int limit) => (int)Math.BigMul(Next(), (ulong)limit, out _);
}
