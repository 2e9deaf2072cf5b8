using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>
/// Continuous ranked probability score of a forecast distribution F: ∫(F(x) − 1{x ≥ y})² dx, in the unit of the quantity;
/// for a date in days. 0 at best; of a single value it is the absolute error.
/// </summary>
/// <remarks>Hersbach 2000, Wea. Forecasting 15:559–570; Gneiting and Raftery 2007, J. Am. Stat. Assoc. 102:359–378.</remarks>
public static class Crps
{
    /// <summary>Score of an ensemble of equal members: mean|x − y| − ½ mean|x − x′|.</summary>
    /// <param name="members">At least one.</param>
    /// <param name="observed">What came.</param>
    public static double Ensemble(ReadOnlySpan<double> members, double observed)
    {
        var (distance, spread) = Parts(members, Equal(members.Length), observed);
        return distance - spread;
    }

    /// <summary>Score of an ensemble whose members count differently.</summary>
    /// <param name="members">At least one.</param>
    /// <param name="weights">One for each member, 0 or more; they need not add up to 1.</param>
    /// <param name="observed">What came.</param>
    public static double Ensemble(ReadOnlySpan<double> members, ReadOnlySpan<double> weights, double observed)
    {
        if (weights.Length != members.Length)
            throw new ArgumentException($"There are {members.Length} members and {weights.Length} weights.", nameof(weights));
        var (distance, spread) = Parts(members, weights.ToArray(), observed);
        return distance - spread;
    }

    /// <summary>
    /// The same for a small ensemble of equal members, judged as the sample that it is: its spread with m(m − 1) for m², so that
    /// the expected score does not depend on the number of members. Can fall below 0 in a single case.
    /// </summary>
    /// <param name="members">At least two.</param>
    /// <param name="observed">What came.</param>
    /// <remarks>Ferro 2014, Q. J. R. Meteorol. Soc. 140:1917–1923.</remarks>
    public static double Fair(ReadOnlySpan<double> members, double observed)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(members.Length, 2, nameof(members));
        var (distance, spread) = Parts(members, Equal(members.Length), observed);
        return distance - spread * members.Length / (members.Length - 1);
    }

    /// <summary>Score of a normal distribution: σ(z(2Φ(z) − 1) + 2φ(z) − 1/√π), z = (y − μ)/σ.</summary>
    /// <param name="mean">μ</param>
    /// <param name="sd">σ, 0 or more; at 0 the score is the absolute error.</param>
    /// <param name="observed">y</param>
    public static double Normal(double mean, double sd, double observed)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Finite.Checked(sd));
        Finite.Checked(mean);
        Finite.Checked(observed);
        if (sd == 0)
            return Math.Abs(observed - mean);
        var z = (observed - mean) / sd;
        return sd * (z * (2 * StandardNormal.Below(z) - 1) + 2 * StandardNormal.Density(z) - 1 / Math.Sqrt(Math.PI));
    }

    /// <summary>
    /// Score of the date of an event, told by how many members reach it by each day; up to the horizon, so that "not within it"
    /// is an outcome like any day. [d]
    /// </summary>
    /// <param name="reachedByDay">Members that have had the event by the end of each day, the first day of the forecast first; never falling.</param>
    /// <param name="members">All members, at least one.</param>
    /// <param name="eventDay">Day on which it came, the first being 0; null, or a day past the last, where it did not come within the horizon.</param>
    /// <remarks>
    /// Dates are whole days, so the integral is the sum over days of (F(d) − 1{d ≥ event})². It is the ensemble's score with
    /// every date past the horizon put on the day after the last.
    /// </remarks>
    /// <exception cref="ArgumentException">The counts fall, or leave 0…<paramref name="members"/>.</exception>
    public static double OfDays(ReadOnlySpan<int> reachedByDay, int members, int? eventDay)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(members, 1);
        if (eventDay < 0)
            throw new ArgumentOutOfRangeException(nameof(eventDay), eventDay, "The event came before the first day of the forecast.");
        double sum = 0;
        var before = 0;
        for (var day = 0; day < reachedByDay.Length; day++)
        {
            var reached = reachedByDay[day];
            if (reached < before || reached > members)
                throw new ArgumentException($"Day {day} counts {reached} members, after {before} the day before, of {members}.", nameof(reachedByDay));
            before = reached;
            var error = (double)reached / members - (day >= eventDay ? 1 : 0);
            sum += error * error;
        }

        return sum;
    }

    private static double[] Equal(int count)
    {
        var weights = new double[count];
        Array.Fill(weights, 1);
        return weights;
    }

    /// <summary>Mean distance of the members from what came, and half their mean distance from each other.</summary>
    private static (double Distance, double Spread) Parts(ReadOnlySpan<double> members, double[] weights, double observed)
    {
        if (members.IsEmpty)
            throw new ArgumentException("An ensemble needs at least one member.", nameof(members));
        var sorted = members.ToArray();
        Array.Sort(sorted, weights);
        double total = 0, distance = 0;
        for (var i = 0; i < sorted.Length; i++)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(Finite.Checked(weights[i], nameof(weights)), nameof(weights));
            total += weights[i];
            distance += weights[i] * Math.Abs(Finite.Checked(sorted[i], nameof(members)) - Finite.Checked(observed));
        }

        if (total == 0)
            throw new ArgumentException("All weights are 0.", nameof(weights));

        // ½ΣΣww′|x − x′| as the sum of F(1 − F) over the gaps between neighbours: no large sums that cancel, no pairs.
        double spread = 0, below = 0;
        for (var i = 0; i + 1 < sorted.Length; i++)
        {
            below += weights[i];
            spread += below / total * (1 - below / total) * (sorted[i + 1] - sorted[i]);
        }

        return (distance / total, spread);
    }
}
