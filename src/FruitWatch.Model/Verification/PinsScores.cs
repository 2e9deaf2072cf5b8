namespace FruitWatch.Model.Verification;

/// <summary>A score and the number of cases that it rests on.</summary>
/// <param name="Value">Null where no case could be scored, or the score is undefined.</param>
/// <param name="Cases">Cases that had all it needs.</param>
public readonly record struct CountedScore(double? Value, int Cases);

/// <summary>Forecasts of similar chance: a point of the reliability diagram.</summary>
/// <param name="From">Lowest chance of the class.</param>
/// <param name="To">Where the next class starts; the last one includes 1.</param>
/// <param name="MeanChance">Mean of the chances; null where there are none.</param>
/// <param name="Frequency">Share of them that pins followed; null where there are none.</param>
/// <param name="Cases">How many they are.</param>
public readonly record struct ReliabilityClass(double From, double To, double? MeanChance, double? Frequency, int Cases);

/// <summary>How well a bed's, or a site's, forecasts of pins have done. Cases that lack a reference are left out of that score only.</summary>
public sealed record PinsScores
{
    /// <summary>Cases below which it is too early to tell.</summary>
    public const int EnoughCases = 20;

    /// <summary>Chance from which a forecast counts as a yes.</summary>
    public const double YesFrom = 0.5;

    /// <summary>Seasons below which no range is given: fewer tell nothing about the next one.</summary>
    public const int FewestSeasons = 3;

    private const int Classes = 10;

    /// <summary>Forecasts with an answer.</summary>
    public required int Cases { get; init; }

    /// <summary>Those that pins followed.</summary>
    public required int Pins { get; init; }

    /// <summary>Brier score; null without cases. 0…1</summary>
    public required double? Brier { get; init; }

    /// <summary>Skill over the site's climatological chance. …1</summary>
    public required CountedScore SkillOverClimatology { get; init; }

    /// <summary>Skill over the rule of thumb, its yes taken as certain and its no as impossible. …1</summary>
    public required CountedScore SkillOverRuleOfThumb { get; init; }

    /// <summary>Range of that skill, by drawing seasons anew; null with fewer than <see cref="FewestSeasons"/> of them.</summary>
    public required ScoreRange? SkillOverRuleOfThumbRange { get; init; }

    /// <summary>
    /// Skill over the rule of thumb told as chances: the share of its yes and the share of its no that pins followed, as known
    /// only afterwards. The fairer opponent, and the harder one. …1
    /// </summary>
    public required CountedScore SkillOverRuleAsFrequency { get; init; }

    /// <summary>Forecasts of at least <see cref="YesFrom"/> against pins.</summary>
    public required ContingencyTable Table { get; init; }

    /// <summary>Ten classes of chance, the lowest first; empty ones too.</summary>
    public required IReadOnlyList<ReliabilityClass> Reliability { get; init; }

    /// <summary>Mean score of the date. [d]</summary>
    public required CountedScore DateCrps { get; init; }

    /// <summary>Mean time from first warning to pins, over the hits. [d]</summary>
    public required CountedScore LeadDays { get; init; }

    /// <summary>Whether there are too few cases to judge by.</summary>
    public bool TooEarly => Cases < EnoughCases;

    /// <summary>Scores cases.</summary>
    /// <param name="cases">In any order; none is allowed.</param>
    /// <param name="seed">Of the drawing of seasons.</param>
    public static PinsScores Of(IReadOnlyList<PinsCase> cases, ulong seed = 1)
    {
        ArgumentNullException.ThrowIfNull(cases);
        double[] chances = [.. cases.Select(c => c.Chance)];
        bool[] outcomes = [.. cases.Select(c => c.PinsCame)];
        var rule = cases.Where(c => c.RuleOfThumb is not null)
            .Select(c => Compared(c, c.RuleOfThumb == true ? 1 : 0))
            .ToList();
        return new PinsScores
        {
            Cases = cases.Count,
            Pins = outcomes.Count(came => came),
            Brier = cases.Count == 0 ? null : Verification.Brier.Score(chances, outcomes),
            SkillOverClimatology = Skill(
                [.. cases.Where(c => c.ClimatologicalChance is not null).Select(c => Compared(c, c.ClimatologicalChance!.Value))]),
            SkillOverRuleOfThumb = Skill(rule),
            SkillOverRuleOfThumbRange = SeasonBootstrap.RangeOfSkill(rule, seed),
            SkillOverRuleAsFrequency = Skill(AgainstFrequencies(cases)),
            Table = ContingencyTable.Of(chances, outcomes, YesFrom),
            Reliability = ReliabilityOf(cases),
            DateCrps = Mean(cases.Select(c => c.DateCrps)),
            LeadDays = Mean(cases.Where(c => c.PinsCame && c.Chance >= YesFrom).Select(c => (double?)c.LeadDays)),
        };
    }

    private static ComparedCase Compared(PinsCase c, double reference) =>
        new(c.Season, Verification.Brier.Of(c.Chance, c.PinsCame), Verification.Brier.Of(reference, c.PinsCame));

    private static List<ComparedCase> AgainstFrequencies(IReadOnlyList<PinsCase> cases) =>
    [
        .. cases.Where(c => c.RuleOfThumb is not null).GroupBy(c => c.RuleOfThumb).SelectMany(said =>
        {
            var followed = said.Average(c => c.PinsCame ? 1.0 : 0.0);
            return said.Select(c => Compared(c, followed));
        }),
    ];

    private static CountedScore Skill(List<ComparedCase> cases) => new(
        cases.Count == 0 ? null : Verification.Brier.Skill(cases.Average(c => c.Score), cases.Average(c => c.Reference)), cases.Count);

    private static List<ReliabilityClass> ReliabilityOf(IReadOnlyList<PinsCase> cases)
    {
        var byClass = cases.ToLookup(c => Math.Min(Classes - 1, (int)(c.Chance * Classes)));
        return
        [
            .. Enumerable.Range(0, Classes).Select(k => new ReliabilityClass(
                (double)k / Classes,
                (k + 1.0) / Classes,
                Mean(byClass[k].Select(c => (double?)c.Chance)).Value,
                Mean(byClass[k].Select(c => (double?)(c.PinsCame ? 1 : 0))).Value,
                byClass[k].Count())),
        ];
    }

    private static CountedScore Mean(IEnumerable<double?> values)
    {
        double[] known = [.. values.OfType<double>()];
        return new(known.Length == 0 ? null : known.Average(), known.Length);
    }
}
