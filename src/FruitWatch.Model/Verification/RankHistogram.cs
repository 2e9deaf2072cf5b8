using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>
/// How often what came fell below, between and above the members of an ensemble. Flat where it could have been one of them; high
/// at both ends where the ensemble is too narrow, at one where it leans.
/// </summary>
/// <remarks>Hamill 2001, Mon. Wea. Rev. 129:550–560. Ties, as of dry days, get one of their places at random.</remarks>
public sealed class RankHistogram
{
    private readonly int[] counts;
    private readonly Draws draws;

    /// <summary>An empty histogram.</summary>
    /// <param name="members">Members of every ensemble that will be added. 1…</param>
    /// <param name="seed">Of the generator that breaks ties.</param>
    public RankHistogram(int members, ulong seed)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(members, 1);
        counts = new int[members + 1];
        draws = new Draws(seed);
    }

    /// <summary>Cases at each position, the lowest first.</summary>
    public IReadOnlyList<int> Counts => counts;

    /// <summary>Adds a case.</summary>
    /// <param name="ensemble">Its members, in any order.</param>
    /// <param name="observed">What came.</param>
    /// <returns>Position of what came: 1 below all members … m + 1 above all.</returns>
    public int Add(ReadOnlySpan<double> ensemble, double observed)
    {
        if (ensemble.Length != counts.Length - 1)
            throw new ArgumentException($"The ensemble has {ensemble.Length} members, the histogram is of {counts.Length - 1}.", nameof(ensemble));
        Finite.Checked(observed);
        int below = 0, tied = 0;
        foreach (var member in ensemble)
        {
            if (Finite.Checked(member, nameof(ensemble)) < observed)
                below++;
            else if (member.Equals(observed))
                tied++;
        }

        var position = 1 + below + (tied == 0 ? 0 : draws.Below(tied + 1));
        counts[position - 1]++;
        return position;
    }
}
