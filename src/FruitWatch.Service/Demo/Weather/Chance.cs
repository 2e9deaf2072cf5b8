namespace FruitWatch.Service.Demo.Weather;

/// <summary>
/// Seeded chance: SplitMix64 (Steele, Lea and Flood 2014). Uses nothing but whole numbers, +, −, ×, ÷ and comparison, which give
/// the same bits on every machine; logarithms and sines need not.
/// </summary>
internal struct Chance
{
    private const ulong Increment = 0x9E3779B97F4A7C15;
    private ulong state;

    private Chance(ulong state) => this.state = state;

    /// <summary>A stream of its own for every combination of words; the order of the words counts.</summary>
    public static Chance Of(long seed, params ReadOnlySpan<long> words)
    {
        var state = Mix((ulong)seed + Increment);
        foreach (var word in words)
            state = Mix(state ^ Mix((ulong)word + Increment));
        return new Chance(state);
    }

    /// <summary>Evenly spread, 0 included, 1 not.</summary>
    public double Uniform()
    {
        state += Increment;
        return (Mix(state) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>True with a probability.</summary>
    public bool Happens(double probability) => Uniform() < probability;

    /// <summary>A whole number, both ends included.</summary>
    public int Between(int low, int high) => low + (int)(Uniform() * (high - low + 1));

    /// <summary>Mean 0, standard deviation 1, within ±6: the sum of twelve even numbers less their mean, close enough to normal.</summary>
    public double Normal()
    {
        var sum = -6.0;
        for (var i = 0; i < 12; i++)
            sum += Uniform();
        return sum;
    }

    /// <summary>Exponential with mean 1, by comparing even numbers only (von Neumann 1951).</summary>
    public double Exponential()
    {
        for (var whole = 0; ; whole++)
        {
            var first = Uniform();
            var last = first;
            var falls = 1;
            for (var next = Uniform(); next < last; next = Uniform())
            {
                last = next;
                falls++;
            }

            if (falls % 2 == 1)
                return whole + first;
        }
    }

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
