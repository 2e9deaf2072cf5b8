using System.ComponentModel;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Verification;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Verification;

/// <summary>How good the forecasts were.</summary>
[Description("How good the kept forecasts of pins were. A score says nothing of what is safe to eat.")]
internal sealed record VerificationBody(
    [property: Description("Within how many days pins were forecast, the day of issue included.")] int Lead,
    [property: Description("Answered forecasts below which it is too early to tell.")] int EnoughCases,
    [property: Description("Forecasts taken together by cooperative, site, species and bed; those without any kept forecast are left out.")] IReadOnlyList<VerificationGroupBody> Groups)
{
    public static VerificationBody Of(ForecastReport report, Words words, BedCatalogue catalogue) => new(
        report.Lead, PinsScores.EnoughCases, [.. report.Groups.Select(group => VerificationGroupBody.Of(group, report.Lead, words, catalogue))]);
}

/// <summary>Forecasts taken together.</summary>
[Description("Forecasts taken together, and how good they were.")]
internal sealed record VerificationGroupBody(
    [property: Description("By what they are taken together.")] GroupedBy By,
    [property: Description("Key of the cooperative, site or bed, or of the species in the catalogue.")] string Key,
    [property: Description("Its name, a species' in the language of words.")] string Name,
    [property: Description("What became of the kept forecasts.")] ForecastCountsBody Forecasts,
    [property: Description("Too few answered forecasts to judge by: the scores are there, and say little.")] bool TooEarly,
    [property: Description("The same for people, sentence by sentence, in the language that Accept-Language asks for.")] IReadOnlyList<string> Words,
    [property: Description("Scores of the answered forecasts.")] PinsScoresBody Scores)
{
    public static VerificationGroupBody Of(ForecastGroup group, int lead, Words words, BedCatalogue catalogue) => new(
        group.By,
        group.Key,
        words.VerificationName(group, catalogue),
        new ForecastCountsBody(
            group.Issued,
            group.Of(ForecastFate.Answered),
            group.Of(ForecastFate.Unanswered),
            group.Of(ForecastFate.NotWaiting),
            group.Of(ForecastFate.WithoutChance)),
        group.Scores.TooEarly,
        words.VerificationSaid(group, lead),
        PinsScoresBody.Of(group.Scores));
}

/// <summary>What became of kept forecasts.</summary>
[Description("What became of the kept forecasts.")]
internal sealed record ForecastCountsBody(
    [property: Description("All kept.")] int Issued,
    [property: Description("Answered by the log: pins within the lead, or a look that shows there were none.")] int Answered,
    [property: Description("Nobody noted pins, nor a look that found none.")] int Unanswered,
    [property: Description("The bed showed pins or mushrooms already, or was spent.")] int NotWaiting,
    [property: Description("Without a chance of pins that far ahead.")] int WithoutChance);

/// <summary>Scores of forecasts of pins.</summary>
[Description("Scores of forecasts of pins; null where a score is undefined or rests on nothing.")]
internal sealed record PinsScoresBody(
    [property: Description("Answered forecasts.")] int Cases,
    [property: Description("Those that pins followed.")] int Pins,
    [property: Description("Brier score: mean square of chance minus outcome. 0 at best, 1 at worst.")] double? Brier,
    [property: Description("Skill over the usual chance at that time of the year, from the site's other seasons. 1 at best, 0 no better.")] CountedScoreBody SkillOverClimatology,
    [property: Description("Skill over the growers' rule of thumb, its yes taken as certain and its no as impossible.")] CountedScoreBody SkillOverRuleOfThumb,
    [property: Description("Where 90 of 100 samples of seasons put that skill; null with fewer than three seasons.")] ScoreRangeBody? SkillOverRuleOfThumbRange,
    [property: Description("Skill over the rule of thumb told as the frequencies that followed it, known only afterwards.")] CountedScoreBody SkillOverRuleAsFrequency,
    [property: Description("Chance of at least one half, and pins came.")] int Hits,
    [property: Description("Chance below one half, and pins came.")] int Misses,
    [property: Description("Chance of at least one half, and no pins came.")] int FalseAlarms,
    [property: Description("Chance below one half, and no pins came.")] int CorrectNegatives,
    [property: Description("Mean days from first warning to pins, each pins counted once.")] CountedScoreBody LeadDays,
    [property: Description("Mean score (CRPS) of the date, in days; 0 at best.")] CountedScoreBody DateCrps,
    [property: Description("Forecasts by tenths of chance, empty tenths too.")] IReadOnlyList<ReliabilityClassBody> Reliability)
{
    public static PinsScoresBody Of(PinsScores s) => new(
        s.Cases,
        s.Pins,
        s.Brier,
        CountedScoreBody.Of(s.SkillOverClimatology),
        CountedScoreBody.Of(s.SkillOverRuleOfThumb),
        s.SkillOverRuleOfThumbRange is { } range ? new ScoreRangeBody(range.Low, range.High) : null,
        CountedScoreBody.Of(s.SkillOverRuleAsFrequency),
        s.Table.Hits,
        s.Table.Misses,
        s.Table.FalseAlarms,
        s.Table.CorrectNegatives,
        CountedScoreBody.Of(s.LeadDays),
        CountedScoreBody.Of(s.DateCrps),
        [.. s.Reliability.Select(c => new ReliabilityClassBody(c.From, c.To, c.MeanChance, c.Frequency, c.Cases))]);
}

/// <summary>A score and what it rests on.</summary>
[Description("A score and the number of forecasts that it rests on.")]
internal sealed record CountedScoreBody(
    [property: Description("Null where it is undefined.")] double? Value,
    [property: Description("Forecasts that had all it needs.")] int Cases)
{
    public static CountedScoreBody Of(CountedScore score) => new(score.Value, score.Cases);
}

/// <summary>Range of a score.</summary>
[Description("Where 90 of 100 samples of seasons put a score.")]
internal sealed record ScoreRangeBody(
    [property: Description("Five of 100 lie below.")] double Low,
    [property: Description("Five of 100 lie above.")] double High);

/// <summary>Forecasts of similar chance.</summary>
[Description("Forecasts of similar chance.")]
internal sealed record ReliabilityClassBody(
    [property: Description("Lowest chance.")] double From,
    [property: Description("Where the next class starts.")] double To,
    [property: Description("Mean chance; null where there are none.")] double? MeanChance,
    [property: Description("Share that pins followed; null where there are none.")] double? Frequency,
    [property: Description("How many.")] int Cases);
