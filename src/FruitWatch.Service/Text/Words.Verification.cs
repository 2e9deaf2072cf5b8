using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Verification;
using FruitWatch.Service.Verification;

namespace FruitWatch.Service.Text;

// What is said of how good the forecasts were.
internal abstract partial class Words
{
    public abstract string VerificationLink { get; }

    public abstract string VerificationTitle { get; }

    /// <summary>What the page is about, in one or two sentences.</summary>
    public abstract string VerificationLead { get; }

    public abstract string VerificationLeads { get; }

    /// <summary>A lead, such as "within 7 days".</summary>
    public abstract string VerificationWithin(int days);

    public abstract string VerificationNoneKept { get; }

    public abstract string VerificationBySpecies { get; }

    public abstract string VerificationBySite { get; }

    public abstract string VerificationByBed { get; }

    public abstract string VerificationAnswered { get; }

    public abstract string VerificationPins { get; }

    public abstract string VerificationHits { get; }

    public abstract string VerificationMisses { get; }

    public abstract string VerificationFalseAlarms { get; }

    public abstract string VerificationLeadTime { get; }

    public abstract string VerificationOverCalendar { get; }

    public abstract string VerificationOverRule { get; }

    /// <summary>In a table, in place of a score.</summary>
    public abstract string VerificationTooEarly { get; }

    /// <summary>A time, such as "5 days".</summary>
    public abstract string VerificationDays(double days);

    public abstract string VerificationHowToRead { get; }

    /// <summary>What the terms mean, term and sentence.</summary>
    public abstract IReadOnlyList<(string Term, string Meaning)> VerificationTerms { get; }

    public abstract string VerificationChart { get; }

    /// <summary>What matters in the reliability diagram.</summary>
    /// <param name="cases">Forecasts in it.</param>
    /// <param name="fullest">The class with the most forecasts of those that say something; null where there are none.</param>
    public abstract string VerificationChartSaid(int cases, ReliabilityClass? fullest);

    public abstract string VerificationAsSaid { get; }

    public abstract string VerificationCame { get; }

    public abstract string VerificationChance { get; }

    public abstract string VerificationFollowed { get; }

    public abstract string VerificationForecasts { get; }

    /// <summary>A skill with two decimals, or a dash.</summary>
    public string VerificationSkill(double? skill) => skill is { } known ? Number(known, 2) : "–";

    /// <summary>Name of a group of forecasts.</summary>
    public string VerificationName(ForecastGroup group, BedCatalogue catalogue) =>
        group.By == GroupedBy.Species && catalogue.Species.TryGetValue(group.Key, out var species) ? NameOf(species) : group.Name;

    /// <summary>How good a group of forecasts was, sentence by sentence, the plainest first; nothing is made of too few.</summary>
    public IReadOnlyList<string> VerificationSaid(ForecastGroup group, int lead)
    {
        var scores = group.Scores;
        List<string> said = [];
        if (scores.TooEarly)
            said.Add(SaidTooEarly(scores.Cases, PinsScores.EnoughCases));
        if (scores.Cases > 0)
        {
            said.Add(SaidLikely(scores.Table.Hits + scores.Table.FalseAlarms, scores.Table.Hits, lead));
            said.Add(SaidUnlikely(scores.Table.Misses + scores.Table.CorrectNegatives, scores.Table.Misses));
        }

        if (scores.LeadDays is { Value: { } ahead, Cases: var events })
            said.Add(SaidLeadTime(ahead, events));
        if (!scores.TooEarly)
        {
            said.Add(SaidAgainstCalendar(scores.SkillOverClimatology));
            said.Add(SaidAgainstRule(scores.SkillOverRuleOfThumb, scores.SkillOverRuleOfThumbRange));
        }

        if (group.Of(ForecastFate.Unanswered) is > 0 and var open)
            said.Add(SaidUnanswered(open));
        return said;
    }

    protected abstract string SaidTooEarly(int cases, int enough);

    /// <summary>Of the forecasts that said pins were likely, so many were followed by pins.</summary>
    protected abstract string SaidLikely(int forecasts, int followed, int lead);

    /// <summary>Of those that said the opposite.</summary>
    protected abstract string SaidUnlikely(int forecasts, int followed);

    protected abstract string SaidLeadTime(double days, int events);

    protected abstract string SaidAgainstCalendar(CountedScore skill);

    protected abstract string SaidAgainstRule(CountedScore skill, ScoreRange? range);

    protected abstract string SaidUnanswered(int forecasts);

    /// <summary>Skills within so much of 0 are neither better nor worse.</summary>
    private protected const double SaidEven = 0.05;
}
