using FruitWatch.Service.Tests;
using FruitWatch.Service.Tests.Api.Fuzz;
using FruitWatch.Service.Tests.Killed;
using FruitWatch.Service.Tests.Seattle;
using Xunit.Sdk;
using Xunit.v3;

[assembly: TestCollectionOrderer(typeof(LongestFirst))]

namespace FruitWatch.Service.Tests;

/// <summary>Begins with what takes longest, so that no core waits for it at the end.</summary>
public sealed class LongestFirst : ITestCollectionOrderer
{
    private static readonly string[] s_longest = [nameof(SeattleYearsTests), nameof(KilledTests), nameof(OddRequestTests)];

    public IReadOnlyCollection<TTestCollection> OrderTestCollections<TTestCollection>(IReadOnlyCollection<TTestCollection> testCollections)
        where TTestCollection : ITestCollection =>
        [.. testCollections.OrderBy(PlaceOf).ThenBy(collection => collection.TestCollectionDisplayName, StringComparer.Ordinal)];

    private static int PlaceOf<TTestCollection>(TTestCollection collection)
        where TTestCollection : ITestCollection
    {
        var place = Array.FindIndex(s_longest, name => collection.TestCollectionDisplayName.Contains(name, StringComparison.Ordinal));
        return place < 0 ? s_longest.Length : place;
    }
}
