namespace FruitWatch.Feeds;

/// <summary>What is usual at a site at this time of year, to hold a feed's numbers against.</summary>
/// <param name="Tmax">Maxima of the last good days, or of the same weeks in past years. [°C]</param>
/// <param name="Rain">Rain of the same days, dry ones as 0; the more of them, the more is caught. [mm]</param>
public sealed record SiteUsual(IReadOnlyList<double> Tmax, IReadOnlyList<double> Rain);

/// <summary>
/// A doubt about the unit of a series that no limit shows: mild °F look like hot °C, inches like drizzle. The answer should be
/// held until the user has said which unit it is.
/// </summary>
/// <param name="Series">The name of the series in the description.</param>
/// <param name="ReadAs">The unit it was read in, with its scale where that is not 1: "Cel", "0.1 Cel".</param>
/// <param name="Read">The middle of what was read: the median of the maxima [°C], or the typical rain of a wet day [mm].</param>
/// <param name="Usual">The same of what is usual.</param>
/// <param name="Sentence">The question for the user, with the numbers that led to it.</param>
/// <param name="Fits">What would fit instead, the closest first; empty if nothing known does.</param>
public sealed record UnitQuestion(
    string Series, string ReadAs, double Read, double Usual, string Sentence, IReadOnlyList<UnitFit> Fits)
{
    /// <summary>The code under which the answer is held.</summary>
    public string Code { get; } = FeedCodes.SuspectUnits;
}

/// <summary>One change to the description that would make a series fit.</summary>
/// <param name="ReadAs">The unit, with its scale where that is not 1.</param>
/// <param name="Becomes">What <see cref="UnitQuestion.Read"/> becomes with it. [°C or mm]</param>
/// <param name="Place">The JSON pointer to the member of the description to set; add it where it is not there.</param>
/// <param name="Value">Its new value, as JSON.</param>
/// <param name="Mend">The change in words.</param>
public sealed record UnitFit(string ReadAs, double Becomes, string Place, string Value, string Mend);
