using NodaTime;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>How the replayed forecasts did.</summary>
/// <param name="Beds">Beds that were made.</param>
/// <param name="Mornings">Mornings on which outlooks were issued.</param>
/// <param name="Outlooks">Outlooks issued, of mornings on which the bed was neither growing nor being picked.</param>
/// <param name="PinsEvents">Times that pins came in the beds.</param>
/// <param name="Learned">As issued: with what the bed's log taught, for a bed that is left alone from now on.</param>
/// <param name="KeptMoist">The same, but knowing that the grower goes on watering.</param>
/// <param name="Unlearned">With the catalogue's multipliers: the log corrects the account but teaches nothing.</param>
public sealed record BacktestResult(
    int Beds,
    int Mornings,
    int Outlooks,
    int PinsEvents,
    IReadOnlyList<BacktestCase> Learned,
    IReadOnlyList<BacktestCase> KeptMoist,
    IReadOnlyList<BacktestCase> Unlearned)
{
    /// <summary>Scores of one species, or of all together.</summary>
    /// <param name="cases">Of one of the three.</param>
    /// <param name="lead">[d]</param>
    /// <param name="speciesKey">Null for all.</param>
    public static PinsScores Score(IEnumerable<BacktestCase> cases, int lead, string? speciesKey = null) =>
        PinsScores.Of([.. cases.Where(c => c.Lead == lead && (speciesKey is null || c.SpeciesKey == speciesKey)).Select(c => c.Case)]);
}

/// <summary>A forecast of the backtest and what came of it.</summary>
/// <param name="SpeciesKey">Species of the bed.</param>
/// <param name="Bed">Number of the bed.</param>
/// <param name="Issued">Morning of issue.</param>
/// <param name="Lead">Within how many days pins were forecast, the day of issue included. [d]</param>
/// <param name="Case">Chance and outcome.</param>
public sealed record BacktestCase(string SpeciesKey, int Bed, LocalDate Issued, int Lead, PinsCase Case);
