using FruitWatch.Model.Verification;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string VerificationLink => "Forecasts";

    public override string VerificationTitle => "How good the forecasts were";

    public override string VerificationLead =>
        "Every forecast of pins is kept and held against what growers noted: pins, or a look that found none. "
        + "These figures judge forecasts, never mushrooms.";

    public override string VerificationLeads => "How far ahead";

    public override string VerificationWithin(int days) => $"Within {Number(days)} days";

    public override string VerificationNoneKept => "No forecast has been kept yet. One is kept for every bed each morning.";

    public override string VerificationBySpecies => "By species";

    public override string VerificationBySite => "By site";

    public override string VerificationByBed => "By bed";

    public override string VerificationAnswered => "Answered forecasts";

    public override string VerificationPins => "Followed by pins";

    public override string VerificationHits => "Hits";

    public override string VerificationMisses => "Misses";

    public override string VerificationFalseAlarms => "False alarms";

    public override string VerificationLeadTime => "First warning";

    public override string VerificationOverCalendar => "Skill over the calendar";

    public override string VerificationOverRule => "Skill over the rule of thumb";

    public override string VerificationTooEarly => "too early to tell";

    public override string VerificationDays(double days) => $"{Number(days)} {(Math.Round(days, MidpointRounding.AwayFromZero) == 1 ? "day" : "days")}";

    public override string VerificationHowToRead => "How to read these figures";

    public override IReadOnlyList<(string Term, string Meaning)> VerificationTerms =>
    [
        (VerificationAnswered, "Forecasts of mornings on which the bed was waiting for pins, where the log later shows whether pins came in time. Looks that found none count as much as pins: note them too, or only mornings near pins are judged."),
        (VerificationHits, "The chance was at least 50\u00a0%, and pins came in time."),
        (VerificationMisses, "The chance was below 50\u00a0%, and pins came in time."),
        (VerificationFalseAlarms, "The chance was at least 50\u00a0%, and no pins came in time."),
        (VerificationLeadTime, "Mean time from the first warning that was not taken back to the pins."),
        (VerificationOverCalendar, "1 is perfect, 0 is no better than knowing how often pins come at that time of the year at this site, below 0 is worse."),
        (VerificationOverRule, $"The same against the growers' rule of thumb: pins are near when at least {WaterDepth(25)} of rain fell in the last seven days and their mean temperature was {BareTemperature(13)}–{Temperature(24)}."),
        ("Reliability", "Of forecasts that said 30\u00a0%, about 3 in 10 should be followed by pins. Points above the line: pins came more often than was said; below it: less often."),
    ];

    public override string VerificationChart => "Said and come true";

    public override string VerificationChartSaid(int cases, ReliabilityClass? fullest) => fullest is { MeanChance: { } chance, Frequency: { } share, Cases: var n }
        ? $"{Number(cases)} forecasts by their chance of pins. Of the {Number(n)} that said about {Percent(chance)}, {Percent(share)} were followed by pins."
        : $"{Number(cases)} forecasts by their chance of pins; all said less than {Percent(0.1)}.";

    public override string VerificationAsSaid => "Pins come as often as said";

    public override string VerificationCame => "Forecasts, larger for more";

    public override string VerificationChance => "Chance said";

    public override string VerificationFollowed => "Followed by pins";

    public override string VerificationForecasts => "Forecasts";

    protected override string SaidTooEarly(int cases, int enough) =>
        $"Too early to tell: {Number(cases)} {(cases == 1 ? "forecast has" : "forecasts have")} an answer so far, and {Number(enough)} are needed.";

    protected override string SaidLikely(int forecasts, int followed, int lead) => forecasts == 0
        ? $"No forecast said that pins were likely within {Number(lead)} days."
        : $"Of {Forecasts(forecasts)} that said pins were likely within {Number(lead)} days, {Number(followed)} {(followed == 1 ? "was" : "were")} followed by pins.";

    protected override string SaidUnlikely(int forecasts, int followed) => forecasts == 0
        ? "None said that they were unlikely."
        : $"Of {Forecasts(forecasts)} that said they were not, {Number(followed)} {(followed == 1 ? "was" : "were")} followed by pins all the same.";

    protected override string SaidLeadTime(double days, int events) =>
        $"Pins that were announced had their first warning {VerificationDays(days)} before on average ({Number(events)} {(events == 1 ? "time" : "times")}).";

    protected override string SaidAgainstCalendar(CountedScore skill) => skill.Value is not { } value
        ? "There are not enough other seasons yet to say what is usual at this time of the year."
        : $"The forecasts did {Than(value)} the calendar (skill {VerificationSkill(value)}, {Forecasts(skill.Cases)}).";

    protected override string SaidAgainstRule(CountedScore skill, ScoreRange? range) => skill.Value is not { } value
        ? "The rule of thumb was never wrong here, or was not known: there is nothing to compare with."
        : $"They did {Than(value)} the rule of thumb (skill {VerificationSkill(value)}, {Forecasts(skill.Cases)}"
            + (range is { } r ? $"; with other seasons between {VerificationSkill(r.Low)} and {VerificationSkill(r.High)})." : ").");

    protected override string SaidUnanswered(int forecasts) =>
        $"{Forecasts(forecasts)} {(forecasts == 1 ? "has" : "have")} no answer: nobody noted pins, nor a look that found none.";

    private static string Than(double skill) => skill > SaidEven ? "better than" : skill < -SaidEven ? "worse than" : "about as well as";

    private string Forecasts(int count) => $"{Number(count)} {(count == 1 ? "forecast" : "forecasts")}";
}
