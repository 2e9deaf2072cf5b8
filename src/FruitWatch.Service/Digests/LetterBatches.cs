namespace FruitWatch.Service.Digests;

/// <summary>Letters in lots, so that those who share sites share their books, and nobody waits long for the store.</summary>
internal static class LetterBatches
{
    /// <summary>Letters in one transaction.</summary>
    private const int LettersAtOnce = 100;

    /// <summary>Sites whose books are open at a time: each holds its past years.</summary>
    private const int SitesAtOnce = 40;

    /// <param name="letters">All that are due.</param>
    /// <param name="sitesOf">The sites that one tells of; at least one.</param>
    /// <param name="personOf">Whom it goes to.</param>
    public static IEnumerable<IReadOnlyList<T>> Of<T>(IEnumerable<T> letters, Func<T, IReadOnlyList<long>> sitesOf, Func<T, long> personOf)
    {
        var some = new List<T>();
        var sites = new HashSet<long>();
        foreach (var letter in letters.OrderBy(letter => sitesOf(letter)[0]).ThenBy(personOf))
        {
            if (some.Count > 0 && (some.Count == LettersAtOnce || sites.Union(sitesOf(letter)).Count() > SitesAtOnce))
            {
                yield return some;
                (some, sites) = ([], []);
            }

            some.Add(letter);
            sites.UnionWith(sitesOf(letter));
        }

        if (some.Count > 0)
            yield return some;
    }
}
