using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>Where 90 of 100 samples of seasons would put a score.</summary>
public readonly record struct ScoreRange(double Low, double High);

/// <summary>A case's score and that of a reference.</summary>
internal readonly record struct ComparedCase(int Season, double Score, double Reference);

/// <summary>
/// How far a skill can be trusted, by drawing seasons anew with replacement. Whole seasons: the mornings of one share their
/// weather and their bed, and would make the range far too narrow.
/// </summary>
/// <remarks>Efron and Tibshirani 1993, An Introduction to the Bootstrap, chapter 13: percentile interval.</remarks>
internal static class SeasonBootstrap
{
    // With 999 samples the 5 % and 95 % points are the 50th and the 950th exactly.
    private const int Samples = 999;
    private const int LowAt = 49;
    private const int HighAt = 949;

    /// <summary>Range of the skill; null with too few seasons, or where so many samples leave the skill undefined that it has no lower end.</summary>
    public static ScoreRange? RangeOfSkill(IReadOnlyList<ComparedCase> cases, ulong seed)
    {
        // Seasons in order, so that the order of the cases does not matter. Sums, since all cases of a season come along.
        var seasons = cases.GroupBy(c => c.Season).OrderBy(s => s.Key)
            .Select(s => (Score: s.Sum(c => c.Score), Reference: s.Sum(c => c.Reference)))
            .ToArray();
        if (seasons.Length < PinsScores.FewestSeasons)
            return null;

        var draws = new Draws(seed);
        var skills = new double[Samples];
        for (var sample = 0; sample < Samples; sample++)
        {
            double score = 0, reference = 0;
            for (var i = 0; i < seasons.Length; i++)
            {
                var season = seasons[draws.Below(seasons.Length)];
                score += season.Score;
                reference += season.Reference;
            }

            // A reference that was never wrong cannot be beaten: leaving such samples out would flatter the forecast.
            skills[sample] = Brier.Skill(score, reference) ?? double.NegativeInfinity;
        }

        Array.Sort(skills);
        return double.IsFinite(skills[LowAt]) ? new ScoreRange(skills[LowAt], skills[HighAt]) : null;
    }
}
