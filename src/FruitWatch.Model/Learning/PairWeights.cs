namespace FruitWatch.Model.Learning;

/// <summary>
/// How well each pair of multipliers agrees with what was seen. Kept as logarithms of the likelihood over that of a pair that
/// hits every observation, so 0 at best.
/// </summary>
internal sealed class PairWeights(int pairs)
{
    /// <summary>One log in ten thousand disagrees this much with the right pair by chance.</summary>
    private const double RareZ = 3.719; // normal quantile of 0.9999

    private const int Halvings = 40;

    /// <summary>
    /// Effective number of pairs below which a 90 % range is not read off them: √256, a quarter of the spread either way, is
    /// as fine as 256 pairs over a plane can tell.
    /// </summary>
    private double Enough { get; } = Math.Sqrt(pairs);

    private readonly double[] logs = new double[pairs];
    private readonly double[] values = new double[pairs];
    private readonly double[] ordered = new double[pairs];

    public Span<double> Logs => logs;

    public void Clear() => Array.Clear(logs);

    /// <summary>Weights that add up to 1.</summary>
    /// <param name="observations">Number of observations that the logarithms come from.</param>
    /// <param name="disagrees">Whether even the best pair is too far off to be the right one.</param>
    /// <remarks>
    /// Where the log disagrees with all pairs, its errors are larger than was thought: all are widened in proportion until the
    /// best pair is just believable (Birge 1932, Phys. Rev. 40:207). Where so few pairs are left that they say more about the
    /// gaps between the pairs than about the bed, the weights are flattened until enough of them count. Where nothing is left of
    /// any pair, all count the same.
    /// </remarks>
    public double[] Normalised(int observations, out bool disagrees)
    {
        var best = double.NegativeInfinity;
        foreach (var log in logs)
            best = Math.Max(best, log);

        var weights = new double[logs.Length];
        var believable = observations == 0 ? 0 : ChiSquareQuantile(observations) / 2;
        disagrees = !(-best <= believable);
        if (!double.IsFinite(best))
        {
            Array.Fill(weights, 1.0 / weights.Length);
            return weights;
        }

        var power = disagrees ? believable / -best : 1;
        if (Raise(weights, best, power) < Enough)
        {
            var (flat, steep) = (0.0, power);
            for (var halving = 0; halving < Halvings; halving++)
            {
                var middle = (flat + steep) / 2;
                if (Raise(weights, best, middle) < Enough)
                    steep = middle;
                else
                    flat = middle;
            }

            Raise(weights, best, steep);
        }

        return weights;
    }

    /// <summary>Sets the weights by a power of the likelihoods.</summary>
    /// <returns>Their effective number.</returns>
    private double Raise(double[] weights, double best, double power)
    {
        double sum = 0, squares = 0;
        for (var i = 0; i < weights.Length; i++)
            sum += weights[i] = Math.Exp(power * (logs[i] - best));
        for (var i = 0; i < weights.Length; i++)
        {
            weights[i] /= sum;
            squares += weights[i] * weights[i];
        }

        return 1 / squares;
    }

    /// <summary>Mean and quantiles of a multiplier.</summary>
    public LearnedMultiplier Summary(double[] multipliers, double[] weights)
    {
        multipliers.CopyTo(values, 0);
        weights.CopyTo(ordered, 0);
        Array.Sort(values, ordered);
        var mean = 0.0;
        for (var i = 0; i < values.Length; i++)
            mean += ordered[i] * values[i];
        return new LearnedMultiplier(mean, Quantile(0.05), Quantile(0.50), Quantile(0.95));
    }

    /// <summary>
    /// The pair of each member: equal steps through the weights from a drawn start (systematic resampling, Kitagawa 1996,
    /// J. Comput. Graph. Stat. 5:1–25), so that every pair is taken as often as its weight says, to less than one.
    /// </summary>
    /// <param name="weights">Add up to 1.</param>
    /// <param name="walk">Order in which the pairs are gone through.</param>
    /// <param name="members">Number to take.</param>
    /// <param name="start">0…1, 1 not included.</param>
    public static int[] Resampled(ReadOnlySpan<double> weights, ReadOnlySpan<int> walk, int members, double start)
    {
        var lanes = new int[members];
        var (step, passed) = (-1, 0.0);
        for (var member = 0; member < members; member++)
        {
            var mark = (member + start) / members;
            while (passed <= mark && step < walk.Length - 1)
                passed += weights[walk[++step]];
            lanes[member] = walk[step];
        }

        Array.Sort(lanes);
        return lanes;
    }

    /// <summary>Between the middles of the weights of the two neighbours, in a straight line.</summary>
    private double Quantile(double share)
    {
        var (passed, last) = (0.0, double.NegativeInfinity);
        for (var i = 0; i < values.Length; i++)
        {
            var middle = passed + ordered[i] / 2;
            if (middle >= share)
                return i == 0 ? values[0] : values[i - 1] + (share - last) / (middle - last) * (values[i] - values[i - 1]);
            last = middle;
            passed += ordered[i];
        }

        return values[^1];
    }

    /// <summary>Wilson and Hilferty 1931, Proc. Natl. Acad. Sci. 17:684–688.</summary>
    private static double ChiSquareQuantile(int degrees)
    {
        var variance = 2.0 / (9 * degrees);
        return degrees * Math.Pow(1 - variance + RareZ * Math.Sqrt(variance), 3);
    }
}
