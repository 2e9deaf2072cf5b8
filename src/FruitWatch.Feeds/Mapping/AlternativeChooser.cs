using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Mapping;

/// <summary>
/// Chooses, where records give totals over several lengths of time side by side, the longest that ends before the next
/// record begins: none is counted twice, and none is left out where the steps grow.
/// </summary>
internal sealed class AlternativeChooser(IReadOnlyList<AlternativeDescription> alternatives, IReadOnlyList<Stamp> stamps)
{
    private readonly List<Instant> starts = [.. stamps.Select(stamp => stamp.At).Distinct().Order()];

    /// <summary>Puts the chosen text into the cell.</summary>
    /// <returns>Whether any of them fits and is there.</returns>
    public bool Choose(ref FeedCell cell, Instant at, out Duration? period)
    {
        var next = starts.BinarySearch(at) + 1;
        // After the last record nothing can be counted twice.
        var gap = next < starts.Count ? starts[next] - at : Duration.MaxValue;
        var best = -1;
        for (var i = 0; i < alternatives.Count; i++)
        {
            if (alternatives[i].Period <= gap && !string.IsNullOrWhiteSpace(cell.Choices![i])
                && (best < 0 || alternatives[i].Period > alternatives[best].Period))
                best = i;
        }
        period = best < 0 ? null : alternatives[best].Period;
        if (best >= 0)
            cell = cell with { Text = cell.Choices![best], Choice = best };
        return best >= 0;
    }
}
