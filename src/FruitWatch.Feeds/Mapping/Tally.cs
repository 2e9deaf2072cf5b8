namespace FruitWatch.Feeds.Mapping;

/// <summary>Counts over a whole answer, by which a wrong description shows.</summary>
internal sealed class Tally
{
    private const double MostBad = 0.2;

    private int numbers;
    private int unreadable;
    private string? firstUnreadable;
    private string unreadableHint = "";
    private int temperatures;
    private int impossible;
    private string? firstImpossible;
    private string impossibleHint = "";

    public void Number() => numbers++;

    public void Unreadable(string place, string hint)
    {
        unreadable++;
        firstUnreadable ??= place;
        unreadableHint = unreadableHint.Length > 0 ? unreadableHint : hint;
    }

    public void Temperature(bool possible, string place, string hint)
    {
        temperatures++;
        if (possible)
            return;
        impossible++;
        firstImpossible ??= place;
        impossibleHint = impossibleHint.Length > 0 ? impossibleHint : hint;
    }

    /// <exception cref="FeedException">More than a fifth of the values are bad: the description does not fit.</exception>
    public void Check()
    {
        if (unreadable > MostBad * (numbers + unreadable))
            throw new FeedException(FeedCodes.TooManyUnreadable, $"{unreadable} of {numbers + unreadable} values are not numbers.{unreadableHint}",
                firstUnreadable!, "Correct the column, the decimal sign (format.decimal) or the marks for missing values (missing) in the description.");
        if (impossible > MostBad * temperatures)
            throw new FeedException(FeedCodes.SuspectUnits, $"{impossible} of {temperatures} temperatures are impossible in the unit described.{impossibleHint}",
                firstImpossible!, "Correct the series' unit.code, or list the feed's mark for missing values under missing.");
    }
}
