using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>Errors of forecasts of a quantity, such as temperature, in its unit.</summary>
/// <param name="Cases">Forecasts.</param>
/// <param name="MeanError">Mean of forecast minus observation: above 0 too high.</param>
/// <param name="MeanAbsoluteError">Mean size of the error.</param>
/// <param name="MeanSquareError">Mean square of the error. [unit²]</param>
/// <param name="Correlation">Pearson's, of forecasts with observations; null where one of them never varies. −1…1</param>
/// <remarks>Wilks 2011, Statistical Methods in the Atmospheric Sciences, chapter 8.</remarks>
public sealed record ContinuousScores(
    int Cases, double MeanError, double MeanAbsoluteError, double MeanSquareError, double? Correlation)
{
    /// <summary>Root of the mean square error.</summary>
    public double RootMeanSquareError => Math.Sqrt(MeanSquareError);

    /// <summary>Scores of forecasts.</summary>
    /// <param name="forecasts">At least one.</param>
    /// <param name="observations">What came, in the same order.</param>
    public static ContinuousScores Of(ReadOnlySpan<double> forecasts, ReadOnlySpan<double> observations)
    {
        Pairs.CheckSome(forecasts.Length, observations.Length);
        var n = forecasts.Length;
        double error = 0, absolute = 0, square = 0, forecast = 0, observed = 0;
        for (var i = 0; i < n; i++)
        {
            var e = Finite.Checked(forecasts[i], nameof(forecasts)) - Finite.Checked(observations[i], nameof(observations));
            error += e;
            absolute += Math.Abs(e);
            square += e * e;
            forecast += forecasts[i] - forecasts[0];
            observed += observations[i] - observations[0];
        }

        // From the means, not from raw moments: those cancel where the mean is far from 0, as of days of the year. Counted from
        // the first value, so that what never varies has a variance of 0 exactly.
        double covariance = 0, forecastVariance = 0, observedVariance = 0;
        for (var i = 0; i < n; i++)
        {
            var (f, o) = (forecasts[i] - forecasts[0] - forecast / n, observations[i] - observations[0] - observed / n);
            covariance += f * o;
            forecastVariance += f * f;
            observedVariance += o * o;
        }

        double? correlation = forecastVariance == 0 || observedVariance == 0
            ? null
            : Math.Clamp(covariance / Math.Sqrt(forecastVariance * observedVariance), -1, 1);
        return new ContinuousScores(n, error / n, absolute / n, square / n, correlation);
    }

    /// <summary>Skill of the mean square error over that of a reference, such as climatology; null where the reference is never wrong.</summary>
    /// <param name="forecasts">At least one.</param>
    /// <param name="reference">The reference's forecasts of the same cases.</param>
    /// <param name="observations">What came.</param>
    public static double? Skill(ReadOnlySpan<double> forecasts, ReadOnlySpan<double> reference, ReadOnlySpan<double> observations) =>
        Brier.Skill(Of(forecasts, observations).MeanSquareError, Of(reference, observations).MeanSquareError);

    /// <summary>Standard deviation of normal errors without bias, of which a share lies within a distance on either side.</summary>
    /// <param name="share">Between 0 and 1, both left out.</param>
    /// <param name="halfWidth">The distance. 0…</param>
    /// <remarks>For services that publish "within 2 °C" and no error.</remarks>
    public static double SdFromWithin(double share, double halfWidth)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(Finite.Checked(halfWidth));
        if (!(share is > 0 and < 1))
            throw new ArgumentOutOfRangeException(nameof(share), share, "Must lie between 0 and 1, both left out.");
        return halfWidth / StandardNormal.Quantile((1 + share) / 2);
    }
}
