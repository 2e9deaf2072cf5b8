namespace FruitWatch.Service.Digests;

/// <summary>Letters in lots, so that those who share sites share their books, and nobody waits long for the store.</summary>
internal static class LetterBatches
{
    /// <summary>Letters in one transaction.</summary>
    private const int LettersAtOnce = 100;

    /// <summary>Sites whose books are open at a time: each holds its past years.</summary>
    private const int SitesAtOnce = 40;

    /// <summary>
    /// Writes letters in lots. Where one lot fails each of its letters is written by itself, so that a site whose books cannot be read
    /// costs nobody else's mail.
    /// </summary>
    /// <returns>How many were written.</returns>
    /// <exception cref="AggregateException">Some could not be written; all the others were.</exception>
    public static async Task<int> WriteAsync<T>(
        IEnumerable<T> letters,
        Func<T, IReadOnlyList<long>> sitesOf,
        Func<T, long> personOf,
        Func<IReadOnlyList<T>, Task<int>> write)
    {
        var written = 0;
        var faults = new List<Exception>();
        foreach (var some in Of(letters, sitesOf, personOf))
        {
            try
            {
                written += await write(some);
            }
            catch (Exception fault) when (fault is not OperationCanceledException && some.Count > 1)
            {
                foreach (var letter in some)
                    written += await AloneAsync(letter);
            }
            catch (Exception fault) when (fault is not OperationCanceledException)
            {
                faults.Add(fault);
            }
        }

        return faults.Count == 0 ? written : throw new AggregateException($"{faults.Count} letters could not be written, {written} were.", faults);

        async Task<int> AloneAsync(T letter)
        {
            try
            {
                return await write([letter]);
            }
            catch (Exception fault) when (fault is not OperationCanceledException)
            {
                faults.Add(fault);
                return 0;
            }
        }
    }

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
