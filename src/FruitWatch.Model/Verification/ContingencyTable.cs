using System.Runtime.CompilerServices;
using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>Yes/no forecasts of an event against what happened, in four counts, and the scores that are made of them.</summary>
/// <param name="Hits">Forecast, and happened. a</param>
/// <param name="FalseAlarms">Forecast, did not happen. b</param>
/// <param name="Misses">Not forecast, happened. c</param>
/// <param name="CorrectNegatives">Neither forecast nor happened. d</param>
/// <remarks>
/// Finley 1884, Am. Meteorol. J. 1:85–88, and what was made of his table since: Murphy 1996, Wea. Forecasting 11:3–20. A score
/// whose denominator is 0 is undefined, and null: it is not 0.
/// </remarks>
public readonly record struct ContingencyTable(int Hits, int FalseAlarms, int Misses, int CorrectNegatives)
{
    /// <summary>Forecast, and happened. a</summary>
    public int Hits { get; } = Count(Hits);

    /// <summary>Forecast, did not happen. b</summary>
    public int FalseAlarms { get; } = Count(FalseAlarms);

    /// <summary>Not forecast, happened. c</summary>
    public int Misses { get; } = Count(Misses);

    /// <summary>Neither forecast nor happened. d</summary>
    public int CorrectNegatives { get; } = Count(CorrectNegatives);

    private double A => Hits;

    private double B => FalseAlarms;

    private double C => Misses;

    private double D => CorrectNegatives;

    /// <summary>Forecasts in all. n</summary>
    public long Total => (long)Hits + FalseAlarms + Misses + CorrectNegatives;

    /// <summary>Share of forecasts that were right: (a + d)/n. 0…1; high wherever the event is rare (Finley's 0.966).</summary>
    public double? ProportionCorrect => Ratio(A + D, Total);

    /// <summary>Forecast events per event: (a + b)/(a + c). 0…; 1 where they are forecast as often as they happen.</summary>
    public double? Bias => Ratio(A + B, A + C);

    /// <summary>Probability of detection: a/(a + c). 0…1</summary>
    public double? Pod => Ratio(A, A + C);

    /// <summary>False alarm ratio, share of the forecast events that did not happen: b/(a + b). 0…1</summary>
    public double? Far => Ratio(B, A + B);

    /// <summary>Probability of false detection, also false alarm rate: b/(b + d). 0…1</summary>
    public double? Pofd => Ratio(B, B + D);

    /// <summary>Critical success index, also threat score: a/(a + b + c). 0…1</summary>
    public double? Csi => Ratio(A, A + B + C);

    /// <summary>Peirce's skill score, also Hanssen and Kuipers': POD − POFD. −1…1, 0 without skill</summary>
    public double? Pss => Pod - Pofd;

    /// <summary>Equitable threat score, also Gilbert's: (a − r)/(a + b + c − r), with r hits by luck, (a + b)(a + c)/n. −⅓…1, 0 without skill</summary>
    public double? Ets
    {
        get
        {
            // Both sides times n: a·n − (a + b)(a + c) is ad − bc. No fraction is left, so a denominator of 0 is 0 exactly.
            var beyondLuck = A * D - B * C;
            return Ratio(beyondLuck, (B + C) * Total + beyondLuck);
        }
    }

    /// <summary>Heidke's skill score: 2(ad − bc)/((a + c)(c + d) + (a + b)(b + d)). −1…1, 0 without skill</summary>
    public double? Hss => Ratio(2 * (A * D - B * C), (A + C) * (C + D) + (A + B) * (B + D));

    /// <summary>Odds ratio: ad/(bc). 0…, 1 without skill</summary>
    public double? OddsRatio => Ratio(A * D, B * C);

    /// <summary>Odds ratio skill score, Yule's Q: (ad − bc)/(ad + bc). −1…1, 0 without skill</summary>
    /// <remarks>Stephenson 2000, Wea. Forecasting 15:221–232.</remarks>
    public double? Orss => Ratio(A * D - B * C, A * D + B * C);

    /// <summary>Counts chances as a yes from a threshold on.</summary>
    /// <param name="chances">Chances that were issued. 0…1</param>
    /// <param name="outcomes">Whether the event happened, in the same order.</param>
    /// <param name="threshold">Lowest chance that counts as a yes. 0…1</param>
    /// <exception cref="ArgumentException">Not as many outcomes as chances.</exception>
    public static ContingencyTable Of(ReadOnlySpan<double> chances, ReadOnlySpan<bool> outcomes, double threshold)
    {
        Pairs.Check(chances.Length, outcomes.Length);
        Chance.Checked(threshold);
        int hits = 0, falseAlarms = 0, misses = 0, correctNegatives = 0;
        for (var i = 0; i < chances.Length; i++)
        {
            switch (Chance.Checked(chances[i], nameof(chances)) >= threshold, outcomes[i])
            {
                case (true, true): hits++; break;
                case (true, false): falseAlarms++; break;
                case (false, true): misses++; break;
                case (false, false): correctNegatives++; break;
            }
        }

        return new ContingencyTable(hits, falseAlarms, misses, correctNegatives);
    }

    private static int Count(int count, [CallerArgumentExpression(nameof(count))] string? name = null) =>
        count >= 0 ? count : throw new ArgumentOutOfRangeException(name, count, "A count is 0 or more.");

    private static double? Ratio(double numerator, double denominator) => denominator == 0 ? null : numerator / denominator;
}
