using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Mapping;

/// <summary>What is gathered for one quantity of one day before it becomes one value.</summary>
/// <param name="explain">Whether to remember what each value was made from.</param>
internal sealed class DayTotals(bool explain)
{
    private readonly List<Slot>? rests = explain ? [] : null;
    private readonly List<(Instant Start, Instant End)> covered = [];
    private double wholeCoverage;
    private double highest = double.NegativeInfinity;
    private double lowest = double.PositiveInfinity;
    private double sum;
    private double weighted;
    private double weight;
    private bool any;

    /// <param name="slot">The value, in °C, mm or %.</param>
    /// <param name="share">The part of the value that belongs to this day. 0…1</param>
    /// <param name="length">How long the value stands for within this day; its weight in a mean.</param>
    public void Take(Slot slot, double share, Duration length)
    {
        var value = slot.Value;
        rests?.Add(slot);
        any = true;
        highest = Math.Max(highest, value);
        lowest = Math.Min(lowest, value);
        sum += value * share;
        weighted += value * length.TotalSeconds;
        weight += length.TotalSeconds;
    }

    public void Cover(Instant start, Instant end) => covered.Add((start, end));

    /// <summary>One value stands for the whole day, or for a part of it that is not one stretch of it.</summary>
    public void CoverShare(double share) => wholeCoverage = Math.Max(wholeCoverage, share);

    public FeedValue? Value(Reduce reduce, Duration dayLength, double minCoverage)
    {
        if (!any)
            return null;
        var value = reduce switch
        {
            Reduce.Max => highest,
            Reduce.Min => lowest,
            Reduce.Sum => sum,
            _ => weight > 0 ? weighted / weight : (highest + lowest) / 2,
        };
        var stretch = dayLength > Duration.Zero ? Covered().TotalSeconds / dayLength.TotalSeconds : 0;
        var coverage = Math.Min(1, Math.Max(wholeCoverage, stretch));
        // A second in a week of rounding must not make a day incomplete.
        var made = new FeedValue(value, coverage, coverage >= minCoverage - 1e-6);
        return rests is null ? made : made with { Raw = Raw(rests) };
    }

    // The two readings of a counter are each the end of one rise and the beginning of the next.
    private static List<RawValue> Raw(List<Slot> rests) =>
        [.. rests.OrderBy(slot => slot.Start).SelectMany(slot => slot.Raw()).Distinct()];

    private Duration Covered()
    {
        var total = Duration.Zero;
        Instant? until = null;
        foreach (var (start, end) in covered.OrderBy(one => one.Start))
        {
            var from = until > start ? until.Value : start;
            if (end > from)
                total += end - from;
            until = until > end ? until : end;
        }
        return total;
    }
}
